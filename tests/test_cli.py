"""The command line: its verbs, its options, what it writes and how it ends."""

from __future__ import annotations

import json
import sys
import time
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from command_line import run
from skirtwright.cli import main
from skirtwright.draft import styles
from skirtwright.job import file, piece_edits
from skirtwright.job.job import new_job
from walker import edge_path

pytestmark = pytest.mark.usefixtures("elsewhere", "drafted_once")

MEASURES = [
    "--measure",
    "waist=74cm",
    "--measure",
    "hip=1010mm",
    "--measure",
    "waist_to_hip=8 1/4in",
    "--measure",
    "waist_to_knee=59,5",
]


def test_styles_as_json(capsys):
    code, out, err = run(capsys, "styles", "--json")
    listed = json.loads(out)
    assert (code, err) == (0, "")
    assert [entry["id"] for entry in listed] == list(styles.names())
    for entry in listed:
        assert {"id", "name", "measurements", "amounts", "choices"} <= set(entry)
        for amount in entry["amounts"].values():
            assert {"kind", "default", "least", "most", "label"} <= set(amount)
        for choice in entry["choices"].values():
            assert choice["default"] in choice["options"]
    mermaid = next(entry for entry in listed if entry["id"] == "mermaid")
    assert sorted(mermaid["measurements"]) == sorted(
        ["waist", "hip", "waist_to_hip", "waist_to_knee"]
    )


def test_styles_in_words(capsys):
    code, out, _ = run(capsys, "styles")
    assert code == 0
    for name in styles.names():
        assert name in out


def test_draft_without_measures_is_the_sample_and_says_so(capsys, elsewhere):
    code, out, err = run(capsys, "draft", "mermaid", "--report", "r.json")
    assert (code, err) == (0, "")
    report = json.loads((elsewhere / "r.json").read_text(encoding="utf-8"))
    assert "sample" in report["title"]
    assert "sample" in out.splitlines()[0]
    assert report["measurements"]["waist"] == 720


def test_lengths_as_people_write_them(capsys, elsewhere):
    # The inch is 25.4 mm exactly; 8 1/4 in = 209.55 mm.
    code, _, err = run(capsys, "draft", "mermaid", *MEASURES, "--report", "r.json")
    assert (code, err) == (0, "")
    report = json.loads((elsewhere / "r.json").read_text(encoding="utf-8"))
    found = report["measurements"]
    assert found["waist"] == pytest.approx(740)
    assert found["hip"] == pytest.approx(1010)
    assert found["waist_to_hip"] == pytest.approx(209.55)
    assert found["waist_to_knee"] == pytest.approx(595)
    assert "sample" not in report["title"]
    assert report["finished"]["waist"] == pytest.approx(755, abs=0.1)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        # International inch: 5/8, 3/8, 1/2 in.
        ("5/8 in", 15.875),
        ('3/8"', 9.525),
        ("1/2in", 12.7),
        ("29 1/8in", 739.775),
        ('29.125"', 739.775),
    ],
)
def test_inches(text, mm):
    from skirtwright.measures.units import read_length

    assert read_length(text) == pytest.approx(mm, abs=1e-9)


def test_the_last_of_a_name_wins_and_order_does_not_matter(capsys, elsewhere):
    first = ["--amount", "hip_ease=9", "--amount", "hip_ease=5"]
    code, _, _ = run(
        capsys, "draft", *first, "mermaid", *MEASURES, "--report", "a.json"
    )
    assert code == 0
    code, _, _ = run(
        capsys,
        "draft",
        "--report",
        "b.json",
        "mermaid",
        "--amount",
        "hip_ease=5cm",
        *MEASURES,
    )
    a, b = (
        json.loads((elsewhere / name).read_text(encoding="utf-8"))
        for name in ("a.json", "b.json")
    )
    assert a == b
    assert a["amounts"]["hip_ease"] == 50


def test_choices(capsys, elsewhere):
    run(
        capsys,
        "draft",
        "mermaid",
        *MEASURES,
        "--choose",
        "hem_shape=even_from_knee",
        "--choose",
        "waist_shape=side_elastic",
        "--report",
        "r.json",
    )
    report = json.loads((elsewhere / "r.json").read_text(encoding="utf-8"))
    assert report["choices"]["hem_shape"] == "even_from_knee"
    assert report["choices"]["waist_shape"] == "side_elastic"
    assert report["pieces"][0]["darts"] == []


def test_a_card_file(capsys, elsewhere):
    card = {
        "name": "Ilse Farrow",
        "unit": "cm",
        "measurements": {
            "waist": "74",
            "hip": "101",
            "waist_to_hip": "21",
            "waist_to_knee": "59",
        },
    }
    (elsewhere / "card.json").write_text(json.dumps(card), encoding="utf-8")
    code, out, err = run(
        capsys,
        "draft",
        "mermaid",
        "--card",
        "card.json",
        "--measure",
        "hip=104",
        "--report",
        "r.json",
    )
    assert (code, err) == (0, "")
    assert "Ilse Farrow" in out
    report = json.loads((elsewhere / "r.json").read_text(encoding="utf-8"))
    assert report["measurements"]["hip"] == 1040
    assert report["measurements"]["waist"] == 740


def test_a_known_measurement_that_is_not_used_is_kept_and_said(capsys):
    code, out, _ = run(
        capsys, "check", "straight-block", *MEASURES, "--measure", "thigh=57"
    )
    assert code == 0
    # Room to walk is worked from the thigh, so it is in use; the bust is not.
    assert "Traceback" not in out


def test_draft_saves_and_opens_again(capsys, elsewhere):
    code, out, _ = run(
        capsys,
        "draft",
        "mermaid",
        *MEASURES,
        "--amount",
        "hip_ease=5",
        "-o",
        "o.skirt",
        "--report",
        "a.json",
    )
    assert code == 0
    assert "o.skirt" in out
    code, _, err = run(capsys, "draft", "o.skirt", "--report", "b.json")
    assert (code, err) == (0, "")
    a, b = (
        json.loads((elsewhere / name).read_text(encoding="utf-8"))
        for name in ("a.json", "b.json")
    )
    assert a == b
    code, _, _ = run(
        capsys, "draft", "o.skirt", "--amount", "hip_ease=6", "--report", "c.json"
    )
    c = json.loads((elsewhere / "c.json").read_text(encoding="utf-8"))
    assert c["amounts"]["hip_ease"] == 60
    assert c["measurements"] == a["measurements"]


def test_why(capsys):
    code, out, err = run(capsys, "draft", "mermaid", "--why", "back.hem")
    assert (code, err) == (0, "")
    assert "Back flare at the break: 3 cm" in out
    assert "98 cm" in out


def test_check_ends_with_1_when_something_is_wrong(capsys):
    plain, _, _ = run(capsys, "check", "mermaid")
    assert plain == 0
    style = styles.style("mermaid")
    seam = style.seams[0].replace(ease="2")
    changed = style.replace(seams=(seam, *style.seams[1:]))
    from skirtwright.job.file import save
    from skirtwright.job.job import new_job

    save(new_job(changed), Path("uneven.skirt"))
    code, out, err = run(capsys, "check", "uneven.skirt", "--report", "r.json")
    assert (code, err) == (1, "")
    report = json.loads(Path("r.json").read_text(encoding="utf-8"))
    assert "wrong" in {p["severity"] for p in report["problems"]}
    assert out


SVG = "{http://www.w3.org/2000/svg}"


def test_export_svg_read_by_another_reader(capsys, elsewhere):
    # Another reader (svgpathtools) finds each
    # straight edge at its reported length, in mm at true scale.
    svgpathtools = pytest.importorskip("svgpathtools")
    code, _, err = run(
        capsys, "export", "mermaid", *MEASURES, "-o", "s.svg", "--report", "r.json"
    )
    assert (code, err) == (0, "")
    report = json.loads((elsewhere / "r.json").read_text(encoding="utf-8"))
    root = ET.parse(elsewhere / "s.svg").getroot()
    wide, high = (float(n) for n in root.get("viewBox").split()[2:])
    assert root.get("width") == f"{root.get('viewBox').split()[2]}mm"
    assert wide > 0
    assert high > 0
    paths = [svgpathtools.parse_path(path.get("d")) for path in root.iter(f"{SVG}path")]
    lengths = [path.length() for path in paths]
    for piece in report["pieces"]:
        for edge in piece["edges"]:
            if piece["cut"]["folds"] and edge["name"] in piece["cut"]["folds"]:
                # The fold is straight: drawn as one line of its reported length.
                straight = edge["length"]
                assert any(abs(n - straight) < 0.01 for n in lengths), edge
    sides = [
        e["length"] for p in report["pieces"] for e in p["edges"] if e["name"] == "side"
    ]
    assert len(sides) == 4, "front and back, and their linings"
    assert edge_path(report["pieces"][0], "side")


def test_export_dxf_says_its_unit_and_whose_it_is_only_where_asked(capsys, elsewhere):
    ezdxf = pytest.importorskip("ezdxf")
    asked = ("export", "straight-block", *MEASURES, "-o", "s.dxf")
    told = {}
    for more in ((), ("--name-client",), ("--on-fold",)):
        code, out, err = run(capsys, *asked, *more)
        assert (code, err) == (0, "")
        assert "The lengths in the file are mm." in out
        drawing = ezdxf.readfile(elsewhere / "s.dxf")
        said = [text.dxf.text for text in drawing.modelspace().query("TEXT")]
        (told[more],) = (text for text in said if text.startswith("SAMPLE SIZE"))
        has_mirror = bool([b for b in drawing.blocks if b.query('LINE[layer=="6"]')])
        assert has_mirror == (more == ("--on-fold",))
    assert told[()] == told[("--on-fold",)] == "SAMPLE SIZE: made to measure"
    for option in ("--on-fold", "--name-client"):
        code, _, err = run(capsys, *asked[:-1], "s.svg", option)
        assert code == 2
        assert "ends in .dxf" in err


def test_a_hidden_piece_is_left_off_paper_and_flagged_in_the_report(capsys, elsewhere):
    job = new_job(styles.style("mermaid"))
    job = piece_edits.show_piece(job, "back_lining", on=False).job
    job = piece_edits.rename_piece(job, "front", "Tail of the front").job
    file.save(job, elsewhere / "o.skirt")
    asked = ("export", "o.skirt", "-o", "o.svg", "--report", "r.json")
    assert run(capsys, *asked)[0] == 0
    text = (elsewhere / "o.svg").read_text("utf-8")
    assert "Tail of the front" in text
    assert "Front lining" in text
    assert "Back lining" not in text
    pieces = json.loads((elsewhere / "r.json").read_text("utf-8"))["pieces"]
    assert [p["name"] for p in pieces if p["hidden"]] == ["back_lining"]
    assert pieces[0]["title"] == "Tail of the front"
    code, _, err = run(
        capsys, "print", "o.skirt", "--only", "back_lining", "-o", "one.pdf"
    )
    assert (code, err) == (0, "")


def test_straight_edges_of_the_block_in_svg(capsys, elsewhere):
    svgpathtools = pytest.importorskip("svgpathtools")
    code, _, _ = run(
        capsys,
        "export",
        "straight-block",
        *MEASURES,
        "-o",
        "s.svg",
        "--report",
        "r.json",
    )
    assert code == 0
    report = json.loads((elsewhere / "r.json").read_text(encoding="utf-8"))
    root = ET.parse(elsewhere / "s.svg").getroot()
    segments = [
        segment.length()
        for path in root.iter(f"{SVG}path")
        for segment in svgpathtools.parse_path(path.get("d"))
    ]
    for piece in report["pieces"]:
        hem = next(e for e in piece["edges"] if e["name"] == "hem")
        assert any(abs(n - hem["length"]) < 0.01 for n in segments)
    # Every cut line's whole length is drawn.
    whole = [
        svgpathtools.parse_path(path.get("d")).length()
        for path in root.iter(f"{SVG}path")
    ]
    for piece in report["pieces"]:
        ring = piece["cut_outline"]
        around = sum(
            ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
            for a, b in zip(ring, ring[1:] + ring[:1], strict=True)
        )
        fold = sum(
            e["length"] for e in piece["edges"] if e["name"] in piece["cut"]["folds"]
        )
        assert any(
            abs(n - around) < 0.1 or abs(n - (around - fold)) < 60 for n in whole
        )


def test_the_same_command_gives_the_same_bytes(capsys, elsewhere):
    for name in ("a", "b"):
        run(
            capsys,
            "export",
            "mermaid",
            *MEASURES,
            "-o",
            f"{name}.svg",
            "--report",
            f"{name}.json",
        )
        run(capsys, "draft", "mermaid", *MEASURES, "-o", f"{name}.skirt")
    for suffix in ("json", "skirt"):
        a, b = (elsewhere / f"{n}.{suffix}" for n in ("a", "b"))
        assert a.read_bytes() == b.read_bytes()


def test_fit_alters_an_order_lists_it_and_takes_it_back(tmp_path, capsys):
    order, fitted, back = (tmp_path / f"{n}.skirt" for n in ("a", "b", "c"))
    assert main(["draft", "straight", "-o", str(order)]) == 0
    asked = ["--alter", "side_seams=-0.5; left; waist to hip", "--alter", "length=-2"]
    assert main(["fit", str(order), *asked, "-o", str(fitted)]) == 0
    said = capsys.readouterr().out
    told = "Side seams, left: taken in by 0.5 cm, from the waist to the hip, most at"
    assert f"1  {told} the waist." in said
    assert "2  Length: 2 cm shorter." in said
    taken = ["--take-back", "1", "--take-back", "2", "-o", str(back)]
    assert main(["fit", str(fitted), *taken]) == 0
    assert "so much half way between" in capsys.readouterr().out
    assert main(["fit", str(order), "--alter", "side_seams=1; up"]) == 2
    assert "waist to hip" in capsys.readouterr().err


@pytest.mark.parametrize(
    "asked",
    [
        "side_seams=" + "1" * 61,
        "level_hem=" + ";".join(["30"] * 9),
        "side_seams=0.5; left; right",
        "centre_back_seam=1; left",
        "side_seams=0.5; waist to hip; hip to hem",
    ],
)
def test_fit_refuses_more_than_is_meant_in_a_sentence(asked, capsys):
    assert main(["fit", "straight", "--alter", asked]) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert "went wrong" not in told


def test_more_alterations_than_an_order_has_are_refused_before_any(capsys):
    before = time.process_time()
    assert main(["fit", "straight", *["--alter", "length=1"] * 41]) == 2
    assert "40" in capsys.readouterr().err
    assert time.process_time() - before < 1.0


def test_a_word_not_known_of_the_book_is_never_answered_with_forgetting(capsys):
    assert main(["book", "frob"]) == 2
    assert '"forget' not in capsys.readouterr().err


def test_one_alteration_named_twice_is_taken_back_once(tmp_path, capsys):
    order, back = tmp_path / "a.skirt", tmp_path / "b.skirt"
    asked = ["--alter", "length=1", "--alter", "length=2", "--alter", "length=3"]
    assert main(["fit", "straight", *asked, "-o", str(order)]) == 0
    twice = ["--take-back", "2", "--take-back", "2"]
    assert main(["fit", str(order), *twice, "-o", str(back)]) == 0
    left = json.loads(back.read_text())["fitting"]
    assert [one["by"] for one in left] == ["1", "3"]


def test_what_stops_an_order_can_be_taken_back(tmp_path, capsys):
    order = tmp_path / "a.skirt"
    level = "level_hem=0;0;0;0;20"
    asked = ["fit", "straight", "--alter", level, "-o", str(order)]
    assert main(asked) < 2
    short = ["--amount", "length=35cm"]
    assert main(["check", str(order), *short]) == 2
    assert main(["fit", str(order), *short, "--take-back", "1"]) == 0


def test_a_title_goes_with_a_style_alone(tmp_path, capsys):
    order = tmp_path / "a.skirt"
    assert main(["draft", "straight", "-o", str(order), "--title", "Mine"]) == 2
    assert "--title goes with a file that ends in .json" in capsys.readouterr().err
    assert not order.exists()


def test_half_an_inch_is_altered_in_an_order_in_centimetres(capsys):
    half = ["--unit", "in", "--alter", "side_seams=1/2"]
    body = ["--size", "uk-women:12"]
    assert main(["fit", "straight", *body, *half]) == 0
    assert "let out by 1/2 in" in capsys.readouterr().out
