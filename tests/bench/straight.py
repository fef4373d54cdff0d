"""A draft as one straight Python function: the denominator of the rework figures.

The text of the function is made from the style: every working becomes a Python
expression over local variables, every step a call of its kind's own `draw`, every
search a nested function given to the same solver. No memory, no names, no problems:
only the mathematics.
"""

from __future__ import annotations

import math
import re

from skirtwright.draft.draft import KINDS as KIND_OF
from skirtwright.draft.draft import Group
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.shapes.spot import Spot
from skirtwright.draft.solving import find
from skirtwright.draft.step import Reads
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.measures import working_trees as trees
from skirtwright.measures.measurements import measurements
from skirtwright.measures.units import MM_PER
from skirtwright.measures.working_kinds import ANGLE, LENGTH, NUMBER
from skirtwright.measures.working_parsing import (
    parse_condition,
    parse_place,
    parse_working,
)

PLACED = (Reads.PLACE, Reads.SPOT, Reads.LINE, Reads.SHAPE, Reads.PANEL)
WANTED = {Reads.LENGTH: LENGTH, Reads.DEGREES: ANGLE}


def at_mark(panel, chain, mark):
    """The place on a chain nearest to an end of a mark."""
    shape = panel.part(mark)
    ends = [shape] if isinstance(shape, Point) else [shape.start, shape.end]
    nearest = min((chain.nearest(end) for end in ends), key=lambda near: near[1])
    return chain.at(nearest[0])


def girth(mark, *panels):
    """The length of a mark over all panels that have it."""
    found = [p.mark(mark) for p in panels if p is not None]
    return sum(m.shape.length for m in found if m and isinstance(m.shape, Chain))


def stepped(how, value, step):
    """A value up or down to whole steps."""
    return how(round(value / step, 9)) * step


class Straight:
    """Makes the function of one draft; `call(measurements)` runs it."""

    def __init__(self, draft, body):
        self.draft = draft
        self.kinds = dict.fromkeys(measurements(), LENGTH)
        self.made: dict[str, None] = {}
        self.given = set(body)
        self.steps = []
        self.lines: list[str] = []
        self.runs = 0
        self.panels: dict[str, None] = {}
        self._write()
        self.text = "\n".join(self.lines)
        space = {
            "STEPS": self.steps,
            "FIND": find,
            "Spot": Spot,
            "at_mark": at_mark,
            "girth": girth,
            "stepped": stepped,
            "math": math,
            "CHOICES": {c.name: c.default for c in draft.choices},
        }
        exec(compile(self.text, "<straight>", "exec"), space)
        self.call = space["straight"]

    # Names

    def var(self, name):
        return "v_" + re.sub(r"\W", "_", name)

    def split(self, path):
        parts = path.split(".")
        for size in range(len(parts), 0, -1):
            base = ".".join(parts[:size])
            if base in self.kinds:
                return base, ".".join(parts[size:])
        raise KeyError(path)

    @staticmethod
    def flat(name):
        text = ""
        for word, index in name.parts:
            text = f"{text}.{word}" if text else word
            if index is not None:
                ((_, number),) = index.terms
                text = f"{text}[{number}]"
        return text

    # Workings

    def expression(self, tree):
        """(text, kind, bare) of a working; lengths in mm, angles in degrees."""
        return getattr(self, "_" + type(tree).__name__.lower())(tree)

    def fitted(self, found, kind):
        text, own, bare = found
        if bare and own == NUMBER and kind == LENGTH:
            return f"({text}) * {MM_PER[self.draft.unit]}"
        return text

    def alike(self, found):
        kind = next((k for _, k, bare in found if not bare), NUMBER)
        texts = [self.fitted(one, kind) for one in found]
        return texts, kind, all(bare for _, _, bare in found)

    def _number(self, tree):
        if tree.unit is None:
            return repr(tree.value), NUMBER, True
        if tree.unit == "deg":
            return repr(tree.value), ANGLE, False
        return repr(tree.value * MM_PER[tree.unit]), LENGTH, False

    def _name(self, tree):
        name = self.flat(tree)
        if name == "pi":
            return "math.pi", NUMBER, False
        return self.var(name), self.kinds[name], False

    def _negative(self, tree):
        text, kind, bare = self.expression(tree.of)
        return f"-({text})", kind, bare

    def _binary(self, tree):
        pair = [self.expression(tree.left), self.expression(tree.right)]
        if tree.operator in "+-":
            texts, kind, bare = self.alike(pair)
            return f"({texts[0]} {tree.operator} {texts[1]})", kind, bare
        sign = 1 if tree.operator == "*" else -1
        (a, ka, ba), (b, kb, bb) = pair
        kind = type(ka)(ka.length + sign * kb.length, ka.angle + sign * kb.angle)
        return f"({a} {tree.operator} {b})", kind, ba and bb

    def _compare(self, tree):
        texts, _, _ = self.alike(
            [self.expression(tree.left), self.expression(tree.right)]
        )
        return f"({texts[0]} {tree.operator} {texts[1]})", NUMBER, False

    def _is(self, tree):
        name = self.flat(tree.choice)
        return f"({self.var(name)} == {tree.option!r})", NUMBER, False

    def _and(self, tree):
        left, right = self.expression(tree.left)[0], self.expression(tree.right)[0]
        return f"({left} and {right})", NUMBER, False

    def _or(self, tree):
        left, right = self.expression(tree.left)[0], self.expression(tree.right)[0]
        return f"({left} or {right})", NUMBER, False

    def _not(self, tree):
        return f"(not {self.expression(tree.of)[0]})", NUMBER, False

    def _ifelse(self, tree):
        texts, kind, bare = self.alike(
            [self.expression(tree.then), self.expression(tree.otherwise)]
        )
        asked = self.expression(tree.condition)[0]
        return f"({texts[0]} if {asked} else {texts[1]})", kind, bare

    def _call(self, tree):
        name, arguments = tree.function, tree.arguments
        if name == "given":
            return str(self.flat(arguments[0]) in self.given), NUMBER, False
        if name in ("walk", "apart", "girth"):
            return self._measuring(name, arguments), LENGTH, False
        found = [self.expression(argument) for argument in arguments]
        if name in ("least", "greatest", "round_up", "round_down"):
            texts, kind, bare = self.alike(found)
            made = {
                "least": "min({})",
                "greatest": "max({})",
                "round_up": "stepped(math.ceil, {})",
                "round_down": "stepped(math.floor, {})",
            }[name].format(", ".join(texts))
            return made, kind, bare
        ((text, kind, _),) = found
        if name == "root":
            return f"math.sqrt({text})", type(kind)(kind.length / 2, 0), False
        if name == "asin":
            return f"math.degrees(math.asin({text}))", ANGLE, False
        return f"math.{name}(math.radians({text}))", NUMBER, False

    def _measuring(self, name, arguments):
        texts = []
        for argument in arguments:
            if isinstance(argument, trees.Place):
                texts.append(self.place(argument))
                continue
            path = self.flat(argument)
            if "." not in path:
                panels = ", ".join(self.var(panel) for panel in self.panels)
                return f"girth({path!r}, {panels})"
            base, rest = self.split(path)
            if name == "girth":
                return f"girth({rest!r}, {self.var(base)})"
            texts.append(f"{self.var(base)}.part({rest!r})")
        if name == "apart":
            return f"{texts[0]}.to({texts[1]})"
        return f"{texts[0]}.length"

    def working(self, text, how):
        if how is Reads.WHETHER:
            return self.expression(parse_condition(text))[0]
        found = self.expression(parse_working(text))
        return self.fitted(found, WANTED.get(how, found[1]))

    # Places

    def place(self, tree):
        base, rest = self.split(self.flat(tree.object))
        shape = self.var(base) + (f".part({rest!r})" if rest else "")
        if tree.how is None:
            return shape
        if tree.how in ("start", "end"):
            return f"{shape}.{tree.how}"
        if tree.how == "middle":
            return f"(lambda c: c.at(c.length / 2))({shape})"
        if tree.how == "mark":
            return f"at_mark({self.var(base)}, {shape}, {self.flat(tree.argument)!r})"
        found = self.expression(tree.argument)
        if tree.how == "share":
            return f"(lambda c: c.at(c.length * ({found[0]})))({shape})"
        return f"{shape}.at({self.fitted(found, LENGTH)})"

    def field(self, raw, how):
        if raw is None:
            return "None"
        if isinstance(raw, dict):
            inner = (f"{key!r}: {self.field(item, how)}" for key, item in raw.items())
            return "{" + ", ".join(inner) + "}"
        if not isinstance(raw, str):
            inner = "".join(f"{self.field(item, how)}, " for item in raw)
            return f"({inner})"
        if how not in PLACED:
            return self.working(raw, how)
        tree = parse_place(raw)
        text = self.place(tree)
        if how is Reads.SPOT:
            return f"Spot({text}, {self.split(self.flat(tree.object))[1]!r})"
        return text

    # The function

    def line(self, depth, text):
        self.lines.append("    " * depth + text)

    def _write(self):
        body = ["def straight(body):"]
        self.lines = []
        for name in self.given:
            self.line(1, f"{self.var(name)} = body[{name!r}]")
        for choice in self.draft.choices:
            self.kinds[choice.name] = None
            self.line(1, f"{self.var(choice.name)} = CHOICES[{choice.name!r}]")
        for amount in self.draft.amounts:
            kind = KIND_OF[amount.kind]
            for bound in ("least", "most", "default"):
                found = self.expression(parse_working(amount.working(bound)))
                text = self.fitted(found, kind)
                self.line(1, f"{self.var(amount.name)} = {text}")
            self.kinds[amount.name] = kind
        self._items(self.draft.steps, 1)
        start = [f"    {self.var(name)} = None" for name in self.made]
        last = ", ".join(self.var(panel) for panel in self.panels)
        self.lines = [*body, *start, *self.lines, f"    return {last}"]

    def _items(self, items, depth):
        for item in items:
            if not isinstance(item, Group):
                self._step(item, depth)
            elif item.when is not None:
                self.line(depth, f"if {self.working(item.when, Reads.WHETHER)}:")
                self.line(depth + 1, "pass")
                self._items(item.steps, depth + 1)
            elif item.find is not None:
                self._find(item, item.find, depth)
            else:
                self._items(item.steps, depth)

    def _step(self, step, depth):
        if step.kind == "check":
            return  # It draws nothing, and may speak of what was not measured.
        number = len(self.steps)
        self.steps.append(step.draw)
        fields = ", ".join(
            f"{name}={self.field(getattr(step, name), how)}"
            for name, how in type(step).reading().items()
        )
        names = step.results()
        made = names[bool(step.rewrites) :]
        if made:
            kind = None
            for field, how in type(step).reading().items():
                if how is Reads.FIGURE and isinstance(getattr(step, field), str):
                    kind = self.expression(parse_working(getattr(step, field)))[1]
            self.kinds.update(dict.fromkeys(made, kind))
            self.made.update(dict.fromkeys(made))
        if step.kind == "outline":
            self.panels[names[0]] = None
        call, targets = f"STEPS[{number}]({fields})", ", ".join(map(self.var, names))
        drawn = call if len(names) == 1 else f"{call}.values()"
        self.line(depth, f"{targets} = {drawn}")

    def _find(self, group, rule, depth):
        self.runs += 1
        run, unknown = f"run_{self.runs}", self.var(rule.unknown)
        self.kinds[rule.unknown] = KIND_OF[rule.kind]
        how = {"length": Reads.LENGTH, "angle": Reads.DEGREES}.get(
            rule.kind, Reads.RATIO
        )
        least, most = self.working(rule.least, how), self.working(rule.most, how)
        stood = set(self.made)
        self.made[rule.unknown] = None
        outer, self.lines = self.lines, []
        self._items(group.steps, depth + 1)
        inner, self.lines = self.lines, outer
        found = (re.match(r"\s*(v_\w+) = ", line) for line in inner)
        changed = {match[1] for match in found if match} | {unknown}
        # Every try starts from the panels as they stood above the search.
        panels = [p for p in self.panels if p in stood and self.var(p) in changed]
        for panel in panels:
            self.line(depth, f"{run}_{panel} = {self.var(panel)}")
        self.line(depth, f"def {run}(x):")
        self.line(depth + 1, f"nonlocal {', '.join(sorted(changed))}")
        for panel in panels:
            self.line(depth + 1, f"{self.var(panel)} = {run}_{panel}")
        self.line(depth + 1, f"{unknown} = x")
        self.lines.extend(inner)
        pair = [self.expression(parse_working(t)) for t in (rule.match, rule.to)]
        texts, _, _ = self.alike(pair)
        self.line(depth + 1, f"return {texts[0]} - ({texts[1]})")
        first = ""
        if rule.otherwise is not None:
            first = f", {self.working(rule.otherwise, how)}"
        found = f"FIND({run}, {least}, {most}{first}).value"
        # As the program does: what was tried last need not be worked again.
        searched = f"if {unknown} != (w := {found}): {run}(w)"
        if rule.wanted is None:
            self.line(depth, searched)
            return
        self.line(depth, f"if {self.working(rule.wanted, Reads.WHETHER)}:")
        self.line(depth + 1, searched)
        self.line(depth, "else:")
        self.line(depth + 1, f"{run}({self.working(rule.otherwise, how)})")


def same_panels(straight, worked) -> bool:
    """Whether the function draws what the draft draws."""
    panels = straight.call(worked.inputs.measurements)
    drawn = {n: p for n, p in zip(straight.panels, panels, strict=True) if p}
    known = {n: p for n, p in worked.values.items() if isinstance(p, Panel)}
    return drawn.keys() == known.keys() and all(
        abs(panel.area - known[name].area) < 1e-6 for name, panel in drawn.items()
    )
