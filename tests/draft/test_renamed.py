"""A style is data: copied with every name changed, one step out, one slash more."""

from __future__ import annotations

import ast
import json
import math
import re
from pathlib import Path

import pytest

import skirtwright
from bodies import HOUSE
from drafting import angle_at, draft_of
from skirtwright.checks.limits import limits
from skirtwright.draft import styles
from skirtwright.draft.draft import FINISHED
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.export.report_json import as_json
from skirtwright.export.sewing.sewing_facts import kinds
from skirtwright.geometry.point import Point
from skirtwright.measures.measurements import measurements
from skirtwright.pieces.cutting import Cutting
from skirtwright.report import report

WORD = re.compile(r"[a-z_][a-z_0-9]*")
KEPT = {
    # The grammar of workings and places.
    *[
        "walk",
        "apart",
        "girth",
        "least",
        "greatest",
        "root",
        "sin",
        "cos",
        "tan",
        "asin",
        "pi",
        "round_up",
    ],
    *[
        "round_down",
        "given",
        "if",
        "else",
        "is",
        "and",
        "or",
        "not",
        "at",
        "start",
        "end",
        "middle",
        "share",
        "mark",
    ],
    *[
        "last",
        "i",
        "cm",
        "mm",
        "in",
        "m",
        "deg",
        "ft",
        "yd",
        "tip",
        "left",
        "right",
        "dart",
    ],
}


def whole_style():
    """The mermaid as one file, with what it grows from copied in."""
    draft = styles.style("mermaid")
    return json.loads(draft.model_dump_json(by_alias=True, exclude_unset=True))


def names_of(style):
    """Every name the style gives: amounts, choices, options, steps, groups, edges."""
    found = {a["name"] for a in style["amounts"]}
    for choice in style["choices"]:
        found |= {choice["name"], *choice["options"]}

    def walk(items):
        for item in items:
            if "group" in item:
                found.add(item["group"])
                if item.get("find"):
                    found.add(item["find"]["unknown"])
                walk(item["steps"])
                continue
            found.add(item["step"])
            if item["kind"] == "outline":
                found.update(item["edges"])
            if item["kind"] == "mark":
                found.add(item["name"])

    walk(style["steps"])
    found |= {piece["name"] for piece in style["pieces"]}
    found |= {seam["name"] for seam in style["seams"]}
    return found - set(measurements())


def renamed(style):
    """The style with every one of its names changed, and the map of names."""
    # Backwards, so that no working grows past what one may hold.
    new = {name: name[::-1].replace("_", "x") for name in names_of(style) - KEPT}
    assert len(set(new.values())) == len(new)

    def change(text):
        return WORD.sub(lambda found: new.get(found[0], found[0]), text)

    texts = {"says", "remedy", "title", "label", "help", "unit", "id", "sample"}
    words = {"kind", "axis", "pressed", "which", "group_of", "material", "severity"}
    words |= {"level", "body"}

    def walk(value, key=""):
        if isinstance(value, dict):
            if key == "finished":
                return {k: walk(v) for k, v in value.items()}
            if key == "roles":
                return {new.get(k, k): v for k, v in value.items()}
            if key == "options":
                return {new.get(k, k): v for k, v in value.items()}
            by_name = key in ("edges", "allowances")
            return {
                (new.get(k, k) if by_name else k): walk(v, k) for k, v in value.items()
            }
        if isinstance(value, list):
            return [walk(item, key) for item in value]
        if not isinstance(value, str) or key in texts | words or key == "measurements":
            return value
        if key == "grade" or (key == "group" and value in AMOUNT_GROUPS):
            return value
        return change(value)

    made = walk(style)
    # A kind's own words stay; choices of how an end is drawn stand in fields named so.
    return made, new


AMOUNT_GROUPS = {"ease", "length", "flare", "waist", "finishing"}


def made_of(style):
    style = {**style, "id": "made"}
    style.pop("checks", None)
    style.pop("offers", None)
    return draft_of(style, "made")


def worked(draft, amounts=None, choices=None):
    return Reworking().work(draft, Inputs(HOUSE, amounts or {}, choices or {}))


def test_every_name_changed_it_drafts_the_same():
    style = whole_style()
    changed, new = renamed(style)
    assert new["front_spread"] != "front_spread"
    assert not {"mermaid", "front_spread", "hem_shape"} & set(
        WORD.findall(json.dumps(changed["steps"]))
    )
    first, second = worked(made_of(style)), worked(made_of(changed))
    assert second.problems == () or not second.stopped
    for panel in ("front", "back"):
        one, two = first.values[panel], second.values[new[panel]]
        assert two.area == pytest.approx(one.area, abs=1e-9)
        for edge in one.edges:
            other = two.edge(new.get(edge.name, edge.name))
            assert other.chain == edge.chain, edge.name
    reports = [as_json(report(w, Cutting().cut(w, {}), "")) for w in (first, second)]
    assert reports[0]["finished"] == pytest.approx(reports[1]["finished"])
    # What a step of the style says has the step's name, and that was changed too.
    found = [
        sorted(p["code"] for p in report["problems"] if p["code"].startswith("check."))
        for report in reports
    ]
    assert found[0] == found[1] != []
    for one, two in zip(reports[0]["pieces"], reports[1]["pieces"], strict=True):
        assert two["cut_outline"] == one["cut_outline"]
        assert sorted(n["distance"] for n in two["notches"]) == pytest.approx(
            sorted(n["distance"] for n in one["notches"])
        )
    # Its amounts pull by their new names.
    wider = worked(made_of(changed), {new["front_spread"]: 50.0})
    assert wider.values[new["front"]].area > second.values[new["front"]].area


def without(items, name):
    kept = []
    for item in items:
        if item.get("step") == name:
            continue
        inner = {"steps": without(item["steps"], name)} if "steps" in item else {}
        kept.append({**item, **inner})
    return kept


def step_of(items, name):
    for item in items:
        if item.get("step") == name:
            return item
        if "steps" in item and (found := step_of(item["steps"], name)):
            return found
    return None


def test_the_hem_drop_taken_out():
    style = whole_style()
    for step in ("front_fold_lowered", "front_hem_lower"):
        style["steps"] = without(style["steps"], step)
    style["checks"].pop("hem_lowered at front.centre")
    style["amounts"] = [a for a in style["amounts"] if a["name"] != "hem_drop"]
    style["pulls"] = [h for h in style["pulls"] if h["amount"] != "hem_drop"]
    plain = worked(made_of(style))
    assert not plain.stopped
    fold = plain.values["front"].edge("centre").chain
    assert fold.end.y == pytest.approx(-750)
    kept = worked(styles.style("mermaid"), {"hem_drop": 0.0})
    assert plain.values["front"] == kept.values["front"]


def test_a_third_slash_added():
    # A slash up the outer quarter of the back's hem to the side seam's knee point,
    # beside the two there are: it opens by the same amount at its own inner corner.
    style = whole_style()
    step = step_of(style["steps"], "back_spread_out")
    third = [
        "back.hem at share 3/4",
        "back.knee at share 3/4",
        "back.side at mark knee",
    ]
    step["slashes"].append(third)
    for name in ("front_knee_eased", "back_knee_eased", "back_seat_eased"):
        style["steps"] = without(style["steps"], name)
    drafted = worked(made_of(style))
    assert not drafted.stopped, drafted.problems
    back = drafted.values["back"]
    side = back.edge("side").chain
    # Swings add: 2 asin(3 / 23.5) for the slash in the middle, and for the third, whose
    # corner lies half as far from the hinge, 2 asin(3 / 11.75).
    swing = 2 * math.degrees(math.asin(30 / 235) + math.asin(30 / 117.5))
    assert angle_at(side.end_direction, Point(0, -1)) == pytest.approx(swing, abs=0.1)
    centre = back.edge("centre").chain
    swing = 2 * math.degrees(math.asin(30 / 235))
    assert angle_at(centre.end_direction, Point(0, -1)) == pytest.approx(swing, abs=0.1)
    two = worked(styles.style("mermaid"), {"knee_curve": 0.0}).values["back"]
    assert back.edge("hem").chain.length > two.edge("hem").chain.length + 150
    # Seams are as long as they were.
    assert side.length == pytest.approx(
        drafted.values["front"].edge("side").chain.length, abs=1e-6
    )
    assert centre.length == pytest.approx(two.edge("centre").chain.length, abs=1e-6)
    found = report(drafted, Cutting().cut(drafted, {}), "")
    assert len(found.cut.pieces) == 7


def test_all_three_at_once():
    style = whole_style()
    style["steps"] = without(style["steps"], "front_fold_lowered")
    step_of(style["steps"], "back_spread_out")["slashes"].append(
        ["back.hem at share 1/4", "back.knee at share 1/4", "back.centre at mark knee"]
    )
    changed, new = renamed(style)
    drafted = worked(made_of(changed), {new["back_spread"]: 15.0})
    assert not drafted.stopped, drafted.problems
    centre = drafted.values[new["back"]].edge(new.get("centre", "centre")).chain
    swing = 2 * math.degrees(math.asin(15 / 235) + math.asin(15 / 117.5))
    assert angle_at(centre.end_direction, Point(0, -1)) == pytest.approx(swing, abs=0.2)


# (a) No line under src knows a style's name or its amounts

SOURCE = Path(skirtwright.__file__).parent


def texts_in(path, names):
    """Every text in a file but its docstrings; none where no name stands at all."""
    source = path.read_text(encoding="utf-8")
    if not any(name in source for name in names):
        return
    tree = ast.parse(source)
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        text = node.value if isinstance(node, ast.Constant) else None
        if isinstance(text, str) and id(node) not in docs:
            yield text


def test_no_line_of_the_program_knows_a_style():
    mine = set()
    for name in styles.names():
        draft = styles.style(name)
        mine.add(draft.id)
        mine |= {amount.name for amount in draft.amounts}
        for choice in draft.choices:
            mine |= {choice.name, *choice.options}
    # A single plain word ("open", "share") may mean anything; one of several parts is a
    # style's own, but for tape measures, keys of the report, words of the checks and
    # facts of the sewing.
    mine = {name for name in mine if re.search("[_-]", name)} | {"mermaid"}
    mine -= set(measurements()) | set(FINISHED) | set(kinds())
    mine -= {word for known in kinds().values() for word in known}
    mine -= set(limits()["stated"]) | set(limits())
    assert len(mine) > 20
    found = {
        (path.relative_to(SOURCE).as_posix(), text)
        for path in SOURCE.rglob("*.py")
        if path.name != "_workings_parser.py"
        for text in texts_in(path, mine)
        if text in mine
    }
    assert found == set()
