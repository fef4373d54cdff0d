"""People from a table: every row is taken, or refused by itself in a sentence."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from skirtwright.measures.card import values_of
from skirtwright.problems import BadInput
from skirtwright.words import in_one_sentence
from skirtwright.workroom import people
from skirtwright.workroom.people import read_people

HEADING = "name,waist,hip"


def read(text, **options):
    return read_people(text.encode(), "people.csv", **options)


def refused(text):
    with pytest.raises(BadInput) as told:
        read(text)
    return in_one_sentence(told.value.problem)


def why(text):
    """What is said of the rows that are refused, by their numbers."""
    return {row.row: in_one_sentence(row.problem) for row in read(text).refused}


@pytest.mark.parametrize("parting", [",", ";", "\t"])
def test_however_cells_are_parted(parting):
    found = read(f"{HEADING}\nIda,72,98\n".replace(",", parting))
    (one,) = found.persons
    assert one.card.name == "Ida"
    assert values_of(one.card) == {"waist": 720, "hip": 980}
    assert found.measured == {"waist", "hip"}


def test_as_other_programs_write_tables():
    """With a mark of byte order, ends of lines of two signs, capitals and spaces."""
    heading = "\ufeffName,Waist ,Waist to hip left,Notes\r\n"
    text = heading + '"Berg, Ida",72,20.5,"two\r\nlines"\r\n'
    (one,) = read(text).persons
    assert one.card.name == "Berg, Ida"
    assert one.card.measurements == {"waist": "72", "waist_to_hip_left": "20.5"}
    assert one.card.notes == "two\r\nlines"


def test_a_decimal_comma_is_read_between_semicolons_and_told_between_commas():
    (one,) = read("name;waist\nIda;72,5\n").persons
    assert values_of(one.card) == {"waist": 725}
    assert "decimal comma" in why(f"{HEADING}\nIda,72,5,98\n")[2]


def test_inches_in_one_row():
    found = read('name,waist,unit\nIda,72,\nMaud,29 1/8,in\nJo,"29 1/8""",cm\n')
    assert [values_of(one.card)["waist"] for one in found.persons] == [
        720,
        29.125 * 25.4,
        29.125 * 25.4,
    ]
    (inch,) = read("name,waist\nIda,30\n", unit="in").persons
    assert values_of(inch.card) == {"waist": 762}


def test_a_row_is_refused_by_itself_and_told_with_its_number():
    found = why(
        f"{HEADING},unit\n"
        "Ida,72,98,\n"
        "ida,73,99,\n"
        ",73,99,\n"
        "\n"
        "Jo,7300,99,\n"
        "Bo,73,99,ell\n"
        "May,seventy,99,\n"
        f"{'x' * 201},73,99,\n"
    )
    assert sorted(found) == [3, 4, 6, 7, 8, 9]
    assert "row 2" in found[3]
    assert "name" in found[4]
    assert "7300" in found[6]
    assert "ell" in found[7]
    assert "seventy" in found[8]


def test_an_age_is_read_in_whole_years():
    found = read("name,age,waist\nIda,9,62\nJo,,60\nMay,nine,60\nBo,130,60\n")
    assert [one.card.age for one in found.persons] == [9, None]
    assert [one.row for one in found.refused] == [4, 5]


def test_the_number_of_a_row_counts_lines_within_cells():
    found = read('name,notes,waist\nIda,"a\nb",72\nJo,,9000\n')
    assert [one.row for one in found.persons] == [2]
    assert [one.row for one in found.refused] == [4]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("\n\n", "empty"),
        (HEADING, "nobody"),
        ("waist,hip\n72,98\n", "no column called name"),
        ("name,wasit\nIda,72\n", "waist"),
        ("name,waist,Waist\nIda,72,72\n", "two columns for waist"),
        ("name,waist,\nIda,72,1\n", "no measurement"),
        ('name,waist\n"Ida"x,72\n', "quotation marks in row 2"),
        ("name,waist\nI\0da,72\n", "row 2"),
    ],
)
def test_a_table_that_cannot_be_used(text, said):
    assert said in refused(text)


def test_no_text():
    with pytest.raises(BadInput) as told:
        read_people(b"name,waist\nIda,72\n\xff\xfe,1\n", "people.csv")
    assert "row 3" in in_one_sentence(told.value.problem)


def test_too_large():
    row = "Ida {},72,98\n"
    many = "".join(map(row.format, range(people.MOST_PEOPLE + 1)))
    assert "20000 people" in refused(f"{HEADING}\n{many}").replace(",", "")
    assert "5 MB" in refused(f"{HEADING}\n{many * 20}")


def test_one_name_in_two_ways_of_writing_its_letters_is_one():
    """Unicode, forms NFC and NFD."""
    assert "row 2" in why(f"{HEADING}\nZo\u00eb,72,98\nZoe\u0308,72,98\n")[3]


CELLS = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\0\r"), max_size=12
)


@settings(max_examples=25)
@given(st.lists(st.lists(CELLS, min_size=3, max_size=3), min_size=1, max_size=8))
def test_no_row_is_dropped(rows):
    written = io.StringIO()
    table = csv.writer(written, lineterminator="\n")
    table.writerow(HEADING.split(","))
    table.writerows(rows)
    kept = [row for row in rows if any(cell.strip() for cell in row)]
    if not kept:
        assert "nobody" in refused(written.getvalue())
        return
    found = read(written.getvalue())
    assert len(found.persons) + len(found.refused) == len(kept)
    names = [one.card.name for one in found.persons]
    assert set(names) <= {row[0].strip() for row in kept}
    assert len({name.casefold() for name in names}) == len(names)
