"""The order of sewing: every rule tripped by a skirt made for it, and not by another.

Rules and numbers: common practice, no source; the skirts are invented.
"""

from __future__ import annotations

import json
import re
import runpy
from graphlib import CycleError

import pytest
from babel.messages.pofile import read_po

from bodies import SAMPLE
from drafting import draft_of, look_of, point, reported, small
from sewn import APART, Sewn
from skirtwright.draft import styles
from skirtwright.draft.kinds import ALL
from skirtwright.export.sewing import sewing_facts
from skirtwright.export.sewing.making_up_sheet import making_of
from skirtwright.export.sewing.sewing_facts import facts_of, kinds, table
from skirtwright.export.sewing.sewing_order import (
    cautions,
    in_order,
    notions,
    sewing_rows,
)
from skirtwright.export.sewing.sewing_words import phrase
from skirtwright.job.job import new_job
from skirtwright.job.piece_edits import set_joins
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner

pytestmark = pytest.mark.usefixtures("no_figure")

PLACES = {"a": (0, 0), "b": (26, 0), "c": (26, 60), "d": (0, 60)}
EDGES = {"waist": "dc", "side": "cb", "hem": "ab", "centre": "da"}


def plain(hem="2", lean="0", length="60", **told):
    """Two straight widths without a dart, 104 round; the hem may lean off the grain."""
    steps = [point(name, *at) for name, at in PLACES.items() if name != "b"]
    steps.append({"step": "b", "kind": "start", "right": f"26 + {lean}", "up": "0"})
    steps += [
        {"step": f"{name}_line", "kind": "join", "through": list(ends)}
        for name, ends in EDGES.items()
    ]
    steps.append(
        {
            "step": "front",
            "kind": "outline",
            "edges": {name: f"{name}_line" for name in EDGES},
        }
    )
    pieces = [
        {
            "name": "front",
            "title": "Front",
            "panel": "front",
            "folds": ["centre"],
            "allowances": {"waist": "1", "side": "1.5", "hem": hem},
            "turned_up": ["hem"],
            "count": "2",
        }
    ]
    return reported(
        small(
            *steps,
            pieces=pieces,
            sewing=told,
            measurements=["waist", "hip", "waist_to_hip", "waist_to_knee"],
            seams=[{"name": "side", "sides": [["front.side"], ["front.side"]]}],
            finished={
                "length": length,
                "sweep": "4 * walk(front.hem)",
                "waist": "4 * walk(front.waist)",
            },
        ),
        SAMPLE,
    )


def style(name, **how):
    return reported(name, SAMPLE, **how)


ZIP = {"zip_length": "18", "zip_to_buy": "18", "opening_at": "centre_back"}
LAPPED = {**ZIP, "zip_kind": "lapped"}
INVISIBLE = {**ZIP, "zip_kind": "invisible"}
POCKETS = {"pockets": "2", "pocket_facings": "4"}
PETERSHAM = {"waist_finish": "petersham"}
BAND = {"waist_finish": "band", "band_height": "3"}

ALWAYS = {"sew.wash", "sew.cut", "sew.mark", "sew.try_on", "sew.last_press"}

TRIPPED = {
    "sew.pocket_facing": (POCKETS, {}),
    "sew.pocket_top": ("a-line+pockets", {}),
    "sew.side_pockets": ("a-line+pockets", "a-line+pockets, left opens"),
    "sew.right_side_pocket": ("a-line+pockets, left opens", "a-line+pockets"),
    "sew.open_seam": (LAPPED, {**ZIP, "zip_kind": "invisible"}),
    "sew.open_seam_vent": ({**LAPPED, "vent_kind": "slit"}, LAPPED),
    "sew.zip_in": (LAPPED, {**ZIP, "zip_kind": "invisible"}),
    "sew.zip_first": (INVISIBLE, LAPPED),
    "sew.zip_then_seam": (INVISIBLE, LAPPED),
    "sew.zip_then_seam_vent": ({**INVISIBLE, "vent_kind": "slit"}, INVISIBLE),
    "sew.placket": ({"buttons": "3", "opening_length": "20"}, {}),
    "sew.stand": ("straight+buttons", "straight"),
    "sew.stand_foot": ({"button_stand": "2"}, {}),
    "sew.vented_seam": ("straight+vent", "straight"),
    "sew.vent_mitre": ({"vent_kind": "vent"}, {"vent_kind": "slit"}),
    "sew.vent_lining": ({"lining_vent_edge": "1"}, {}),
    "sew.wrap_mitre": ({"wrap_overlap": "18"}, {}),
    "sew.lining_fronts": ({"lining_front_short": "1"}, {}),
    "sew.lining_waist": ("straight", {}),
    "sew.lining_placket": ("a-line+placket", "straight"),
    "sew.band_wrap": ("wrap", "straight"),
    "sew.casing_open": ("a-line+channel", "a-line+channel, shut"),
    "sew.casing_joined": ("a-line+channel, shut", "a-line+channel"),
    "sew.waist_tape": ({"waist_finish": "tape"}, BAND),
    "sew.waist_own": ({}, BAND),
    "sew.hem_turned": ({"hem_finish": "turned"}, {}),
    "sew.hem_bound": ({"hem_finish": "bound"}, {}),
    "sew.hem_faced_own": ({"hem_finish": "facing"}, "train"),
    "sew.hem_lining_length": ("high-low", "straight"),
    "sew.train_loop": ({"train_loop": "1"}, {}),
    "notion.train_loop": ({"train_loop": "1"}, {}),
    "sew.one_way": ({"one_way": "1"}, {}),
    "sew.cut_single": ("bias-slip", {}),
    "sew.bias_seams": ("bias-slip", {}),
    "sew.join": ("circle, its front joined", "circle"),
    "sew.interface": ("mermaid", {}),
    "sew.fuse_strips": ({"zip_strip": "20"}, {}),
    "sew.staystitch_waist": ("straight-block", {}),
    "sew.tape_waist": ("half-circle-yoke", "straight-block"),
    "sew.reinforce": ("mermaid", "straight-block"),
    "sew.reinforce_slit": ({"godet_in_slit": "1"}, {}),
    "sew.darts": ("straight-block", {}),
    "sew.tucks": ("straight", "straight-block"),
    "sew.widths": ({"pleats": "24", "pleat_kind": "knife"}, {"pleat_kind": "peg"}),
    "sew.inverted_pleat": ({"pleat_kind": "inverted"}, {}),
    "sew.peg_pleats": ({"pleats": "4", "pleat_kind": "peg"}, {}),
    "sew.yoke_pleats": ("yoke+pleats", "straight"),
    "sew.yoke": ({"yoke": "1"}, {}),
    "sew.pockets": ({"pockets": "2", "pocket_below": "5"}, {}),
    "sew.patch_pockets": ("straight+patch pockets", "straight"),
    "sew.overlay": ({"overlay": "1", "overlay_hem": "0.6"}, {}),
    "sew.overlay_waist": ({"overlay": "1"}, {}),
    "sew.hem_overlay": ({"overlay": "1", "overlay_hem": "0.6"}, {}),
    "caution.overlay": ({"overlay": "1"}, {}),
    "sew.slant_pockets": ({"slant_pockets": "2", "slant_opening": "17"}, {}),
    "sew.side_slits": ("straight+slits", "straight"),
    "sew.godets": ({"godets": "6", "godet_height": "30"}, {}),
    "sew.gores": ("trumpet+gores", {}),
    "sew.opening_crossed": ({"opening_crossed": "1"}, {}),
    "sew.pair_seam": ({}, {"opening_at at front.side": "centre_back"}),
    "sew.pair_seams": ("straight-block, left and right apart", "straight-block"),
    "sew.vent": ({"vent_kind": "vent"}, {}),
    "sew.kick_pleat": ({"vent_kind": "kick_pleat"}, {}),
    "sew.slit": ({"vent_kind": "slit"}, {}),
    "sew.side_seams": ("straight-block", {}),
    "sew.other_seams": ("seams at no side", "straight-block"),
    "sew.right_side": ({"opening_at at front.side": "left_side"}, {}),
    "sew.flounce": ({"hung_on": "flounce"}, {"hung_on": "tier"}),
    "sew.gather": ({"gather_ratio": "1.5", "gathered_to": "110"}, {}),
    "sew.gather_tiers": ("tiered", "flounce"),
    "sew.gather_waist": ("dirndl", "circle"),
    "sew.wrap": ({"wrap_overlap": "18"}, {}),
    "sew.lining": ("straight", {}),
    "sew.lining_zip": ("straight", "straight-block"),
    "sew.band": (BAND, {"waist_finish": "facing"}),
    "sew.facing": ({"waist_finish": "facing"}, BAND),
    "sew.petersham": (PETERSHAM | {"opening_length": "20"}, PETERSHAM),
    "sew.petersham_ring": (PETERSHAM, PETERSHAM | {"opening_length": "20"}),
    "sew.casing": ({"waist_finish": "casing"}, BAND),
    "sew.side_elastic": ({"waist_finish": "side_elastic"}, BAND),
    "notion.elastic_sides": ("mermaid+side elastic", "straight"),
    "sew.ties": ({"ties": "2", "tie_length": "90"}, {}),
    "sew.buttons": ({"buttons": "3"}, {}),
    "sew.hook": ({**LAPPED, **BAND}, LAPPED),
    "sew.hooks": ({**LAPPED, **BAND, "band_height": "4"}, {**LAPPED, **BAND}),
    "sew.hook_and_eye": (
        {**LAPPED, "waist_finish": "facing"},
        {"waist_finish": "facing"},
    ),
    "sew.hang": ("half-circle-yoke", "straight-block"),
    "sew.level": ({}, {"hem_slopes": "1"}),
    "sew.level_sloping": ({"hem_slopes": "1"}, {}),
    "sew.hem": ({}, {"hem_finish": "rolled"}),
    "sew.hem_eased": ("mermaid", {}),
    "sew.hem_faced": ({"hem_finish": "facing", "hem_facing": "5"}, {}),
    "sew.hem_rolled": ({"hem_finish": "rolled"}, {}),
    "sew.hem_lining": ("straight", {}),
    "caution.floor": ("length 102", {}),
    "caution.train": ({"train": "30"}, {}),
    "caution.points": ({"points": "1"}, {}),
    "caution.step": ("narrow", "mermaid"),
    "caution.child": ("child", {"ties": "2"}),
    "caution.nightwear": ({"nightwear": "1"}, {}),
    "caution.flame": ("length 102", {}),
    "caution.heels": ("length 102", {}),
    "notion.thread": ({}, "lean 60"),
    "notion.threads": ("lean 60", {}),
    "notion.zip": (LAPPED, {}),
    "notion.hook": ({**LAPPED, **BAND}, {}),
    "notion.hooks": ({**LAPPED, **BAND, "band_height": "4"}, {}),
    "notion.eye": ({**LAPPED, "waist_finish": "facing"}, {}),
    "notion.buttons": ({"buttons": "3"}, {}),
    "notion.petersham": (PETERSHAM, {}),
    "notion.tape": ("half-circle-yoke", {}),
    "notion.bias_tape": ({"hem_finish": "bound"}, {}),
}
"""For each rule a skirt for which it speaks, and one for which it does not: what a
plain skirt tells of itself, or a skirt by name."""


def child():
    """A girl of 140 cm whose skirt is tied."""
    return reported(
        small(
            *plain().worked.draft.steps,
            sewing={"ties": "2"},
            measurements=["waist", "hip"],
        ),
        {**SAMPLE, "height": 1400.0},
    )


def gored():
    raw = styles.style("trumpet").model_dump(by_alias=True, exclude_unset=True)
    return reported(draft_of({**raw, "sewing": {"gores": "4"}}, "made"), SAMPLE)


def at_no_side():
    """A straight skirt whose seams lie anywhere but at her sides."""
    raw = styles.style("straight-block").model_dump(by_alias=True, exclude_unset=True)
    for piece in raw["pieces"]:
        piece["roles"] = {**piece["roles"], "side": "seam"}
    return reported(draft_of(raw, "made"), SAMPLE)


def joined():
    """A circle whose front is cut apart 50 cm from its fold."""
    job = set_joins(new_job(styles.style("circle")), {"front": ("50",)}).job
    return look_of(job).report


NAMED = {
    "seams at no side": at_no_side,
    "straight-block, left and right apart": lambda: Sewn(
        "straight-block", APART
    ).report({}),
    "a-line+pockets, left opens": lambda: style(
        "a-line", pocket="in_side_seams", closing="zip_left_side"
    ),
    "a-line+pockets": lambda: style("a-line", pocket="in_side_seams"),
    "a-line+placket": lambda: style("a-line", closing="placket_centre_back"),
    "mermaid+side elastic": lambda: style("mermaid", waist_shape="side_elastic"),
    "a-line+channel": lambda: style(
        "a-line", waist_shape="side_elastic", elastic_kind="all_round"
    ),
    "a-line+channel, shut": lambda: style(
        "a-line", waist_shape="side_elastic", elastic_kind="all_round", closing="none"
    ),
    "straight+vent": lambda: style("straight", vent="vent", closing="zip_left_side"),
    "straight+buttons": lambda: style("straight", closing="buttons_front"),
    "yoke+pleats": lambda: style("yoke", below_yoke="pleats"),
    "straight+slits": lambda: style("straight", at_hem="slits"),
    "straight+patch pockets": lambda: style("straight", patch_pocket="front"),
    "trumpet+gores": gored,
    "length 102": lambda: plain(length="102"),
    "lean 60": lambda: plain(lean="60"),
    "narrow": lambda: style("mermaid", knee_shaping=40.0, knee_lift=0.0),
    "child": child,
    "circle, its front joined": joined,
}


def made(which):
    if isinstance(which, dict):
        return plain(**which)
    return NAMED[which]() if which in NAMED else style(which)


def rules():
    return [
        rule for group in ("rows", "cautions", "notions") for rule in table()[group]
    ]


def spoken(report):
    """The message ids of all rules that speak."""
    facts = facts_of(report)
    rows = {saying.message for row in sewing_rows(facts) for saying in row.says}
    return rows | {s.message for s in (*cautions(facts), *notions(facts))}


def test_every_rule_has_its_case():
    several = {"notion.elastic"}
    assert {rule["says"] for rule in rules()} == ALWAYS | set(TRIPPED) | several


def test_a_rule_speaks_when_its_condition_holds_and_else_is_silent():
    for says, (tripped, silent) in TRIPPED.items():
        assert says in spoken(made(tripped))
        assert says not in spoken(made(silent))


def test_a_corner_between_two_long_straights_is_told():
    """Where the break of a trumpet is not eased, its sides turn by some 20 degrees."""
    facts = facts_of(style("trumpet", break_curve=0.0))
    assert facts.values["inward_bend"] == pytest.approx(20, abs=5)


def test_what_is_always_done_has_no_condition():
    unconditional = {rule["says"] for rule in rules() if "when" not in rule}
    assert unconditional == ALWAYS
    assert spoken(plain()) >= ALWAYS


def test_what_a_row_waits_for_is_a_step_and_what_it_fills_is_closed():
    """A name misspelt would hold nothing back."""
    rows = table()["rows"]
    steps = {rule["step"] for rule in rows}
    closed = {place for rule in rows for place in rule.get("closes", ())}
    filled = {place for rule in rows for place in rule.get("fills", ())}
    assert closed == filled
    for rule in rows:
        assert set(rule.get("after", ())) <= steps, rule["says"]
    for rule in table()["notions"]:
        assert set(rule["for"]) <= steps, rule["says"]


def test_rows_are_sorted_by_what_they_need_and_else_stay():
    first, second, third = (
        {"step": "hem", "closes": ["edge"]},
        {"step": "level", "fills": ["edge"]},
        {"step": "mark"},
    )
    assert list(in_order([first, second, third])) == [second, first, third]
    assert list(in_order([{"step": "b", "after": ["a"]}, third])) == [
        {"step": "b", "after": ["a"]},
        third,
    ]
    with pytest.raises(CycleError):
        list(in_order([{"step": "a", "after": ["b"]}, {"step": "b", "after": ["a"]}]))


def test_every_finding_of_the_checks_is_placed(repository):
    """On the sheet as a caution, in the order as a step, or with the pattern alone."""
    catalogue = repository / "resources/words/en_GB.po"
    with catalogue.open("rb") as text:
        ids = [str(m.id) for m in read_po(text) if m.id]
    codes = [i.removeprefix("problem.") for i in ids if i.startswith("problem.check.")]
    findings = table()["findings"]
    placed = [*findings["cautions"], *findings["order"], *findings["pattern"]]
    assert sorted(placed) == sorted(codes)
    spoken = {s["says"] for r in table()["rows"] for s in (r, *r.get("also", ()))}
    for answers in findings["order"].values():
        assert set(answers) <= spoken


def test_every_rule_and_fact_names_its_source():
    assert all(rule["source"].strip(". ") for rule in rules())
    for group in ("told", "seen"):
        assert table()[group]["source"]
    assert all(entry["source"] for entry in table()["reckoned"].values())


def test_every_sentence_is_in_the_catalogue_with_the_values_it_names(repository):
    """Nothing is said by its id, and no value is missing."""
    catalogue = repository / "resources/words/en_GB.po"
    with catalogue.open("rb") as text:
        known = {str(m.id): str(m.string) for m in read_po(text) if m.id}
    sayings = [r for rule in rules() for r in (rule, *rule.get("also", ()))]
    assert {f"sew.step.{row['step']}" for row in table()["rows"]} <= set(known)
    for saying in sayings:
        sentence = known[saying["says"]]
        named = set(re.findall(r"\{(\w+)", sentence))
        assert named == set(saying.get("values", {})), saying["says"]
    for name, kind in kinds().items():
        if isinstance(kind, tuple) and any(
            f'"{name}"' in str(s.get("values", {})).replace("'", '"') for s in sayings
        ):
            assert {f"sew.{name}.{word}" for word in kind} <= set(known)


def test_a_sewing_sentence_that_is_missing_stops_the_build(repository):
    """Not the sheet: the id of a step was printed as its heading."""
    made = runpy.run_path(str(repository / "packaging/build_parts.py"))
    with pytest.raises(SystemExit, match=r"sew\.step\.hem"):
        made["refuse_missing_sentences"](repository, {"sew.hem"})


def test_both_workrooms_say_every_row_in_words():
    for language in ("en_GB", "en_US"):
        for report in (style("mermaid"), style("yoke"), plain(**LAPPED, **BAND)):
            making = making_of(report, "", "", Manner(language=language))
            said = [
                *(step.words for step in making.order),
                *making.notions,
                *making.cautions,
                *(row.allowances for cut in making.cut for row in cut.rows),
            ]
            for words in said:
                assert not re.search(r"\b(sew|notion|caution|making)\.[a-z]", words)
                assert "?" not in words
                assert "{" not in words


def test_every_condition_and_value_can_be_worked():
    """Bound against the kinds of the facts: a slip in the data shows here."""
    facts = facts_of(plain())
    for rule in rules():
        for saying in (rule, *rule.get("also", ())):
            if "when" in saying:
                assert facts.holds(saying["when"]) in (True, False)
            for text in saying.get("values", {}).values():
                facts.worked(text)


def test_a_condition_that_names_no_fact_is_refused():
    facts = facts_of(plain())
    with pytest.raises(SkirtwrightError) as refused:
        facts.holds("zip_lenght > 0")
    assert refused.value.problem.values["nearest"] == "zip_length"
    for text in ("walk(front.hem) > 1", "opening_at > 1", "darts is one", "i > 1"):
        with pytest.raises(SkirtwrightError):
            facts.holds(text)


# Facts


def test_what_is_told_is_a_known_fact_and_a_known_word():
    """Styles and finishings on the shelf tell only what the sheet knows."""
    known = table()["told"]
    drafts = [styles.style(n) for n in styles.names()]
    drafts += [styles.origin(n) for n in (*styles.finishings(), *styles.additions())]
    for draft in drafts:
        for key, said in draft.sewing.items():
            name = key.partition(" at ")[0]
            assert name in known, f"{draft.id}: {key}"
            kind = known[name]["kind"]
            if isinstance(kind, list):
                value = said if isinstance(said, str) else said.value
                choice = draft.choice(value)
                words = list(choice.options) if choice else [value]
                assert set(words) <= set(kind), f"{draft.id}: {key}"


def taken_in(folder, data):
    """Every finishing a style or finishing takes in, itself and by another."""
    if isinstance(data, dict):
        name = str(data.get("from", ""))
        if name.startswith("finishing/"):
            text = (folder / "finishings" / f"{name[10:]}.json").read_text("utf-8")
            inner = json.loads(text)
            yield name, inner
            yield from taken_in(folder, inner["steps"])
        yield from taken_in(folder, list(data.values()))
    elif isinstance(data, list):
        for each in data:
            yield from taken_in(folder, each)


def test_no_fact_is_told_twice_under_one_name(repository):
    """The style's own would hide the finishing's, whatever their conditions."""
    folder = repository / "resources"
    for name in styles.names():
        style = json.loads((folder / f"styles/{name}.json").read_text("utf-8"))
        told = list(style.get("sewing", {}))
        for finishing in dict(taken_in(folder, style)).values():
            told += finishing.get("sewing", {})
        assert sorted(set(told)) == sorted(told), name


def test_no_style_is_known_by_name():
    text = str(table()) + str(sorted(kinds()))
    for name in styles.names():
        # These are words of the trade too: a godet is what is let in, whatever style.
        if name not in ("wrap", "yoke", "train", "straight", "flounce", "godet"):
            assert f"'{name}'" not in text


def test_the_first_that_applies_of_several_told_counts():
    told = {
        "band_height at one": {"value": "5", "when": "1 > 2"},
        "band_height at two": "4",
        "band_height at three": "3",
    }
    assert facts_of(plain(**told)).values["band_height"] == pytest.approx(40)


def test_ties_of_two_lengths_are_both_said():
    told = {"ties": "2", "tie_length at one": "120", "tie_length at other": "60"}
    row = next(r for r in sewing_rows(facts_of(plain(**told))) if r.step == "ties")
    assert phrase(row.says[0], Manner()).startswith("Make 2 ties, 120 cm, 60 cm long")


def test_what_leans_on_the_absent_is_untold():
    assert facts_of(plain(band_height="no_such_step")).values["band_height"] == 0
    assert facts_of(plain(zip_kind="glued")).values["zip_kind"] == "none"


def test_what_is_seen_agrees_with_the_house_mermaid():
    """Corners of 18.5 and 16.6 degrees at the knee, each eased over 5 cm
    either way; tightest hem radius 81 to 83, 3 % of a depth of 2.5."""
    facts = facts_of(style("mermaid")).values
    assert 16.6 - 1 < facts["inward_bend"] < 18.5 + 1
    # Its front's sides, its back's, and its centre back.
    assert facts["clipped_seams"] == 3
    assert facts["hem_share"] == pytest.approx(0.03, abs=0.002)
    assert facts["darts"] == 6
    assert facts["dart_widest"] == pytest.approx(29.7, abs=0.3)
    assert facts["tucks"] == 6
    assert facts["sweep"] == pytest.approx(1640, abs=5)
    assert facts["over_floor"] == pytest.approx(90, abs=1)


def test_angles_of_a_plain_skirt_are_those_it_was_drawn_with():
    """A side that leans 30 over 60 runs asin(30 / 67.08) = 26.57 degrees off grain."""
    facts = facts_of(plain(lean="30")).values
    assert facts["seam_off_grain"] == pytest.approx(26.565, abs=0.01)
    assert facts["waist_off_grain"] == 0
    assert facts["inward_bend"] == 0
    assert facts["hang_hours"] == 24
    assert facts_of(plain()).values["hang_hours"] == 0


def test_facts_that_are_seen_are_all_named_in_the_data():
    report = plain()
    seen = sewing_facts.seen_facts(report, {}, {}, {})
    assert set(seen) == set(table()["seen"]) - {"source"}
    assert "outline" in ALL
