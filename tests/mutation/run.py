"""How many small changes of the code do the tests notice? Run by hand; see DEVELOPERS.md.

    python -m tests.mutation.run plan --out FOLDER
    python -m tests.mutation.run run --out FOLDER --sample 1100 --seed 1
    python -m tests.mutation.run show --out FOLDER

``plan`` runs all tests once and notes which lines each runs and how long it takes. ``run``
tries the mutants of a sample one after another, quick tests of their lines first, and adds a
line of JSON for each to FOLDER/results.jsonl; started again, it goes on where it stopped. With
``--shares 2 --share 0`` and ``--share 1`` two processes do it in half the time.
``show`` adds up and lists the survivors with their changes. ``--again`` tries survivors anew,
with every test of their lines unless ``--budget`` says otherwise.
"""

from __future__ import annotations

import argparse
import difflib
import itertools
import json
import re
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any

from tests.mutation import mutants
from tests.mutation.mutants import MODULES, Mutant, path_of
from tests.mutation.trial import Session, in_fork, swap, with_tests

PATHS = (
    "tests/geometry",
    "tests/layout",
    "tests/judgement",
    "tests/plan",
    "tests/properties/test_fit_properties.py",
    "tests/properties/test_label_properties.py",
    "tests/properties/test_metamorphic.py",
    "tests/properties/test_pipeline_properties.py",
    "tests/published",
    "tests/bench",
    "tests/agreement/test_patterns.py",
    "tests/agreement/test_recorded.py",
    "tests/test_fallback.py",
    "tests/test_pipeline.py",
    "tests/test_rare_jobs.py",
    "tests/job",
    "tests/shaping",
    "tests/refusals",
    "tests/say",
    "tests/drawing",
    "tests/test_right_to_left.py",
)
_SLOW_S = 4.0  # a test that takes longer is not worth its time here


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else None)
    parser.add_argument("what", choices=("plan", "run", "show"))
    parser.add_argument("--out", type=Path, required=True, help="folder for plan and results")
    parser.add_argument("--sample", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--modules", nargs="*", default=MODULES)
    parser.add_argument("--tests", nargs="*", help="plan only these and add them to the plan")
    parser.add_argument("--budget", type=float, default=8.0, help="seconds of tests a mutant")
    parser.add_argument("--again", action="store_true", help="try the survivors again")
    parser.add_argument("--shares", type=int, default=1, help="processes that share the work")
    parser.add_argument("--share", type=int, default=0, help="which of them this one is")
    parser.add_argument("--minutes", type=float, default=1e9, help="start no mutant after that")
    asked = parser.parse_args()
    asked.out.mkdir(parents=True, exist_ok=True)
    {"plan": _plan, "run": _run, "show": _show}[asked.what](asked)


def _plan(asked: argparse.Namespace) -> None:
    def work(session: Session) -> None:
        state, plan = in_fork(lambda: _traced(session), cpu_s=1800)
        assert state == "done", f"the tests could not be run: {state} {plan}"
        for name in plan.pop(
            "failed"
        ):  # what a fork with little memory cannot run, notices nothing
            _say(f"left out, fails as the code stands: {name}")
        if asked.tests:
            plan = _merged(json.loads((asked.out / "plan.json").read_text()), plan)
        (asked.out / "plan.json").write_text(json.dumps(plan))
        _say(f"{len(plan['seconds'])} tests, {sum(plan['seconds'].values()):.0f} s")

    with_tests(asked.tests or PATHS, work)


def _merged(plan: dict[str, Any], more: dict[str, Any]) -> dict[str, Any]:
    """A plan with the tests of another added."""
    for module, lines in more["lines"].items():
        for line, tests in lines.items():
            known = plan["lines"][module].get(line, [])
            plan["lines"][module][line] = sorted({*known, *tests})
    plan["seconds"] |= more["seconds"]
    return plan


def _traced(session: Session) -> dict[str, Any]:
    import coverage

    files = [str(path_of(module)) for module in MODULES]
    trace = coverage.Coverage(data_file=None, include=files, config_file=False)
    trace.start()
    failed = []
    for name in session.items:
        trace.switch_context(name)
        if session.run([name]) is not None:
            failed.append(name)
            session.failed = None
    trace.stop()
    data = trace.get_data()
    seconds = {name: spent for name, spent in session.seconds.items() if name not in failed}
    lines = {
        module: {
            str(line): sorted({*tests} - {*failed})
            for line, tests in data.contexts_by_lineno(str(path_of(module))).items()
        }
        for module in MODULES
    }
    return {"lines": lines, "seconds": seconds, "failed": failed}


def _tests_for(mutant: Mutant, plan: dict[str, Any], budget_s: float) -> list[str]:
    """The tests that run the changed line: those of its own test file first, quick ones first."""
    lines = plan["lines"][mutant.module]
    span = mutants.statement_lines(mutant.module, mutant.line)
    wanted = lines.values() if span is None else [lines.get(str(line), []) for line in span]
    room, name = mutant.module.split("/")
    own = f"tests/{room}/test_{name}.py"
    seconds = plan["seconds"]
    tests = sorted(
        {test for some in wanted for test in some if test},
        key=lambda test: (not test.startswith(own), seconds[test]),
    )
    chosen, spent = [], 0.0
    for test in tests:
        if spent + seconds[test] <= budget_s and seconds[test] <= _SLOW_S:
            chosen.append(test)
            spent += seconds[test]
    return chosen


def _run(asked: argparse.Namespace) -> None:
    plan = json.loads((asked.out / "plan.json").read_text())
    before, same = _results(asked.out), _equivalent()
    until = time.monotonic() + 60 * asked.minutes

    def work(session: Session) -> None:
        drawn = mutants.sample(asked.sample, asked.seed, tuple(asked.modules))
        for mutant, text in itertools.islice(drawn, asked.share, None, asked.shares):
            known = before.get(mutant.key)
            if known is not None and _changed(mutant) in same:
                continue
            if known is not None and not (asked.again and known["outcome"] == "survived"):
                continue
            if time.monotonic() > until:
                return
            tests = _tests_for(mutant, plan, asked.budget)
            result = _tried(session, mutant, text, tests, plan)
            with (asked.out / "results.jsonl").open("a") as stream:
                stream.write(json.dumps(result) + "\n")

    with_tests(PATHS, work)


def _tried(
    session: Session, mutant: Mutant, text: str, tests: list[str], plan: dict[str, Any]
) -> dict[str, Any]:
    planned_s = sum(plan["seconds"][test] for test in tests)

    def work() -> str | None:
        try:
            swap(mutant.module, text)
        except Exception as error:
            return f"import: {error!r}"
        return session.run(tests)

    begun = time.monotonic()
    state, failed = in_fork(work, cpu_s=5 + 3 * planned_s) if tests else ("done", None)
    outcome = {"late": "timed out", "died": "killed"}.get(state)
    if outcome is None:
        outcome = "survived" if failed is None else "killed"
    return {
        "key": mutant.key,
        "line": mutant.line,
        "outcome": outcome,
        "by": failed,
        "tests": len(tests),
        "seconds": round(time.monotonic() - begun, 2),
    }


def _results(out: Path) -> dict[str, dict[str, Any]]:
    """The last result of each mutant."""
    path = out / "results.jsonl"
    rows = [json.loads(row) for row in path.read_text().splitlines()] if path.exists() else []
    return {row["key"]: row for row in rows}


def _equivalent() -> set[tuple[str, str]]:
    """Module and changed line of the mutants that EQUIVALENT.md explains."""
    text = (Path(__file__).parent / "EQUIVALENT.md").read_text(encoding="utf-8")
    return set(re.findall(r"^\| `([^`]+)` \| `([^`]+)`", text, flags=re.MULTILINE))


def _changed(mutant: Mutant) -> tuple[str, str]:
    """Its module and its line as changed, which outlive changes elsewhere in the module."""
    after = [line for line in change_of(mutant).splitlines() if line.startswith("    +")]
    return mutant.module, after[0].removeprefix("    +").strip() if after else ""


def _say(text: str) -> None:
    sys.stdout.write(f"{text}\n")


def change_of(mutant: Mutant) -> str:
    """The changed lines, before and after."""
    before = path_of(mutant.module).read_text(encoding="utf-8")
    lines = difflib.unified_diff(
        before.splitlines(), (mutants.mutated(mutant) or "").splitlines(), n=0, lineterm=""
    )
    return "\n".join(f"    {line}" for line in list(lines)[3:])


def _show(asked: argparse.Namespace) -> None:
    results, same = _results(asked.out), _equivalent()
    rows = []
    for mutant, _text in mutants.sample(asked.sample, asked.seed, tuple(asked.modules)):
        row = results.get(mutant.key)
        if row is not None:
            known = row["outcome"] == "survived" and _changed(mutant) in same
            rows.append((mutant, row | {"outcome": "equivalent"} if known else row))
    for module in MODULES:
        outcomes = Counter(row["outcome"] for mutant, row in rows if mutant.module == module)
        _say(f"{module:22} {dict(outcomes)}")
    _say(f"together {dict(Counter(row['outcome'] for _, row in rows))}")
    for mutant, row in sorted(rows):
        if row["outcome"] == "survived":
            _say(f"{mutant.key} line {mutant.line} ({row['tests']} tests)")
            _say(change_of(mutant))


if __name__ == "__main__":
    main()
