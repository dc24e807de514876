"""Which small changes of the code should some test notice?

Cosmic Ray's operators make the changes (https://cosmic-ray.readthedocs.io), and one of our own
that swaps min and max. Left out, since no test need notice them or any test would: changes of
texts and annotations, and operators on bits where the code has sums (they only raise).
A sample is drawn without looking: a seed and a number name it for good.
"""

from __future__ import annotations

import ast
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import parso
from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.operator import Example, Operator
from cosmic_ray.operators.provider import OperatorProvider

__all__ = [
    "MODULES",
    "ROOT",
    "Mutant",
    "all_places",
    "mutated",
    "path_of",
    "sample",
    "statement_lines",
]

ROOT = Path(__file__).parents[2]

MODULES = (
    "geometry/back",
    "geometry/contact",
    "geometry/fit",
    "geometry/panels",
    "geometry/usable",
    "layout/divisions",
    "layout/group",
    "layout/splits",
    "layout/standing",
    "layout/search",
    "judgement/choice",
    "judgement/settings",
    "judgement/sizing",
    "judgement/reading",
    "judgement/judged",
    "judgement/text",
)

_NEED_NAMES = ("VariableReplacer", "VariableInserter")  # these have to be told of variables
_BITS = ("BitOr", "BitAnd", "BitXor", "LShift", "RShift")


class SwapMinMax(Operator):
    """Puts max where min is called, and min where max is."""

    def mutation_positions(self, node: Any) -> Iterator[Any]:
        if _is_min_or_max(node):
            yield (node.start_pos, node.end_pos)

    def mutate(self, node: Any, index: int) -> Any:
        node.value = "max" if node.value == "min" else "min"
        return node

    @classmethod
    def examples(cls) -> tuple[Example, ...]:
        return (Example("min(a, b)", "max(a, b)"),)


def _is_min_or_max(node: Any) -> bool:
    if not (isinstance(node, parso.python.tree.Name) and node.value in ("min", "max")):
        return False
    after = node.get_next_leaf()
    return after is not None and after.value == "("


class Mutant(NamedTuple):
    """One change: of which module, by which operator, at which of its places, on which line."""

    module: str
    operator: str
    occurrence: int
    line: int

    @property
    def key(self) -> str:
        """A name for it, the same as long as the module stays the same."""
        return f"{self.module}:{self.operator}:{self.occurrence}"


def _operators() -> dict[str, Operator]:
    provider = OperatorProvider()
    wanted: dict[str, Operator] = {"SwapMinMax": SwapMinMax()}
    for name in provider:
        to = name.rsplit("_", 1)[-1]
        binary = name.startswith("ReplaceBinaryOperator")
        if name in _NEED_NAMES or (binary and to in _BITS):
            continue
        wanted[name] = provider[name]()
    return wanted


_OPERATORS = _operators()


def path_of(module: str) -> Path:
    """Where a module's text lies."""
    return ROOT / "spinefit" / f"{module}.py"


def all_places(modules: tuple[str, ...] = MODULES) -> list[Mutant]:
    """Every place where an operator applies, in a fixed order."""
    found = []
    for module in modules:
        nodes = list(ast_nodes(get_ast(path_of(module).read_text(encoding="utf-8"))))
        for name, operator in _OPERATORS.items():
            places = [at for node in nodes for at in operator.mutation_positions(node)]
            found += [Mutant(module, name, count, at[0][0]) for count, at in enumerate(places)]
    return found


def mutated(mutant: Mutant) -> str | None:
    """The module's text with the change made; None where it says the same or cannot be read."""
    before = path_of(mutant.module).read_text(encoding="utf-8")
    after = mutate_code(before, _OPERATORS[mutant.operator], mutant.occurrence)
    if after is None:
        return None
    try:
        same = _meaning(after) == _meaning(before)
    except SyntaxError:
        return None
    return None if same else str(after)


def sample(
    number: int, seed: int, modules: tuple[str, ...] = MODULES
) -> Iterator[tuple[Mutant, str]]:
    """So many mutants and their texts, drawn from all modules together; the same for a seed."""
    places = all_places(modules)
    random.Random(seed).shuffle(places)
    taken = 0
    for place in places:
        if taken == number:
            return
        text = mutated(place)
        if text is not None:
            taken += 1
            yield place, text


class _Plain(ast.NodeTransformer):
    """Drops what no test can tell apart.

    Annotations are never evaluated under ``from __future__ import annotations``; names for the
    type checker change nothing at run time; the star before arguments by keyword is no operator;
    a member of an enumeration equals itself alone.
    """

    def visit_arg(self, node: ast.arg) -> ast.AST:
        node.annotation = None
        return node

    def visit_arguments(self, node: ast.arguments) -> ast.AST:
        self.generic_visit(node)
        node.args, node.posonlyargs = [*node.posonlyargs, *node.args, *node.kwonlyargs], []
        node.defaults = [*node.defaults, *filter(None, node.kw_defaults)]
        node.kwonlyargs, node.kw_defaults = [], []
        return node

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        node.returns = None
        self.generic_visit(node)
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        node.annotation = ast.Constant("")
        self.generic_visit(node)
        return node

    def visit_If(self, node: ast.If) -> ast.AST:
        if "TYPE_CHECKING" in ast.dump(node.test):
            return ast.Pass()
        self.generic_visit(node)
        return node

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        self.generic_visit(node)
        if all(map(_is_member, node.comparators)):
            same: dict[type[ast.cmpop], ast.cmpop] = {ast.Is: ast.Eq(), ast.IsNot: ast.NotEq()}
            node.ops = [same.get(type(each), each) for each in node.ops]
        return node


def _is_member(node: ast.expr) -> bool:
    """Whether it reads as a member of an enumeration: ``BackForm.FLAT``."""
    if isinstance(node, ast.Name):
        return node.id == "_ACROSS"
    return isinstance(node, ast.Attribute) and node.attr.isupper()


def _meaning(text: str) -> str:
    return ast.dump(_Plain().visit(ast.parse(text)))


def statement_lines(module: str, line: int) -> range | None:
    """The lines of the innermost statement, without the statements in it; None outside functions.

    A tracer may name any of them when the changed part runs.
    """
    tree = ast.parse(path_of(module).read_text(encoding="utf-8"))
    inside: ast.stmt | None = None
    in_function = False
    for node in ast.walk(tree):
        if not (isinstance(node, ast.stmt) and node.lineno <= line <= (node.end_lineno or 0)):
            continue
        inside = node  # walks from the outside in
        body = getattr(node, "body", None)
        if isinstance(node, ast.FunctionDef) and body and line >= body[0].lineno:
            in_function = True
    if inside is None or not in_function:
        return None
    body = getattr(inside, "body", None)
    last = max(inside.lineno, body[0].lineno - 1) if body else (inside.end_lineno or line)
    return range(inside.lineno, last + 1)
