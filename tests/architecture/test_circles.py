"""No module of the package imports itself by way of others, however late it imports them."""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from pathlib import Path

import spinefit

PACKAGE = Path(spinefit.__file__).parent


def imports_of(source: str) -> Iterator[str]:
    """Dotted names that a module imports, inside its functions too, but for type checkers."""
    waiting: list[ast.AST] = [ast.parse(source)]
    while waiting:
        node = waiting.pop()
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            waiting.extend(node.orelse)
            continue
        waiting.extend(ast.iter_child_nodes(node))
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module or ""
            yield from (f"{node.module}.{name.name}" for name in node.names)


def graph_of(sources: Mapping[str, str]) -> dict[str, set[str]]:
    """Which module imports which, by their dotted names."""
    return {
        name: {other for other in imports_of(source) if other in sources and other != name}
        for name, source in sources.items()
    }


def circles_of(graph: Mapping[str, set[str]]) -> list[set[str]]:
    """Sets of modules each of which is reached from every other (Tarjan's algorithm)."""
    found: list[set[str]] = []
    order: dict[str, int] = {}
    lowest: dict[str, int] = {}
    path: list[str] = []

    def visit(name: str) -> None:
        order[name] = lowest[name] = len(order)
        path.append(name)
        for other in sorted(graph[name]):
            if other not in order:
                visit(other)
                lowest[name] = min(lowest[name], lowest[other])
            elif other in path:
                lowest[name] = min(lowest[name], order[other])
        if lowest[name] == order[name]:
            circle = set(path[path.index(name) :])
            del path[path.index(name) :]
            if len(circle) > 1:
                found.append(circle)

    for name in graph:
        if name not in order:
            visit(name)
    return found


def sources_of_the_package() -> dict[str, str]:
    """Every module but the doors of packages, which name what stands behind them."""
    return {
        ".".join(("spinefit", *path.relative_to(PACKAGE).with_suffix("").parts)): path.read_text(
            encoding="utf-8"
        )
        for path in PACKAGE.rglob("*.py")
        if path.name != "__init__.py"
    }


def test_no_module_imports_itself_by_way_of_others() -> None:
    assert circles_of(graph_of(sources_of_the_package())) == []


def test_a_planted_circle_is_found() -> None:
    """At the head of modules, inside a function, by either form of import, through a third."""
    sources = {
        "house.a": "from house.b import name",
        "house.b": "def late():\n    from house import c",
        "house.c": "import house.d",
        "house.d": "class Room:\n    def late(self):\n        if self:\n            import house.a",
        "house.apart": "from house.a import name",
    }
    assert circles_of(graph_of(sources)) == [{"house.a", "house.b", "house.c", "house.d"}]


def test_two_circles_are_told_apart() -> None:
    graph = {"a": {"b"}, "b": {"a", "c"}, "c": {"d"}, "d": {"c"}, "e": {"a", "d"}}
    assert sorted(map(sorted, circles_of(graph))) == [["a", "b"], ["c", "d"]]


def test_what_only_a_type_checker_imports_closes_no_circle() -> None:
    sources = {
        "house.a": "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import house.b",
        "house.b": "import house.a",
    }
    assert circles_of(graph_of(sources)) == []
    sources["house.a"] += "\nelse:\n    import house.b"
    assert circles_of(graph_of(sources)) == [{"house.a", "house.b"}]
