"""Is a document what readers of JUnit XML take in common?

There is no published standard. Held here is what the schemas in common use ask alike: which
elements stand in which, in which order, what each must say of itself, and that counts are true.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree as Tree

_INSIDE = {
    "testsuites": r"(testsuite )+",
    "testsuite": r"(properties )?(testcase )*(system-out )?",
    "properties": r"(property )*",
    "testcase": r"((error )|(failure ))?(system-out )?",
}
_SAID = {
    "testsuites": {"name", "tests", "failures", "errors", "time"},
    "testsuite": {"name", "tests", "failures", "errors", "time"},
    "testcase": {"name", "classname", "time"},
    "property": {"name", "value"},
    "failure": {"message", "type"},
    "error": {"message", "type"},
}
_COUNTED = {"tests": "testcase", "failures": "failure", "errors": "error"}


def junit_of(written: str | bytes) -> Tree.Element:
    """The document, found good; an assertion fails where it is not."""
    root = Tree.fromstring(written)
    assert root.tag == "testsuites"
    for element in root.iter():
        inside = "".join(f"{child.tag} " for child in element)
        assert re.fullmatch(_INSIDE.get(element.tag, ""), inside), (element.tag, inside)
        required = _SAID.get(element.tag, set())
        assert set(element.attrib) == required, element.attrib
        for name, tag in _COUNTED.items():
            if name in element.attrib:
                assert element.get(name) == str(len([*element.iter(tag)])), (element.tag, name)
    for suite in root.iter("testsuite"):
        names = [(case.get("classname"), case.get("name")) for case in suite.iter("testcase")]
        assert len(set(names)) == len(names) > 0, names
    return root


def outcomes(root: Tree.Element) -> dict[str, str]:
    """Of each case by its name: passed, or the type of its failure or error."""
    found = {}
    for case in root.iter("testcase"):
        bad = [child for child in case if child.tag in ("failure", "error")]
        found[case.get("name", "")] = bad[0].get("type", "") if bad else "passed"
    return found
