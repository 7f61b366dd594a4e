"""What the command line asks for, verb by verb."""

from __future__ import annotations

import os
import sys
import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Final, cast

from tastebook.platform import machine
from tastebook.platform.courses import CourseFiles
from tastebook.platform.figures import FigureFiles
from tastebook.platform.files import read_bytes, write_bytes
from tastebook.platform.folders import folders_of_this_machine
from tastebook.reports.wording import began, day
from tastebook.services.settings import Paper
from tastebook.services.word_table import MOST_BYTES
from tastebook.wiring.house import DEMO, Place, fill_with_demo, house

NO_DISPLAY: Final = (
    "tastebook: there is no display here to open the window on. Without one, `tastebook --rehearse` plays the demo "
    "tasting off-screen, and the verbs sessions, pdf, words and check work (`tastebook --help`)."
)

# -- verbs that need no display


def list_sessions(place: Place) -> int:
    """Print every session with its name, date, lot and decision."""
    with house(place) as built:
        if place.is_demo:
            fill_with_demo(built)
        for session in built.journal.sessions():
            lot = built.journal.lot(session.lot_uid)
            state = "open" if session.is_open else "finished"
            print(f"{session.uid}  {day(began(session)):>18}  {state:8}  {lot.name}")
    return 0


def write_pdf(place: Place, session: str, out: Path, paper: str | None) -> int:
    """Print a session into a file."""
    with house(place) as built:
        if place.is_demo:
            fill_with_demo(built)
        found = built.session_called(session)
        write_bytes(out, built.page(found.uid, cast("Paper | None", paper)))
    print(out.resolve())
    return 0


def check(place: Place) -> int:
    """Look the journal and the user's own courses over; return 1 if anything is wrong."""
    from tastebook.store.checking import check as check_journal

    folders = folders_of_this_machine()
    path = place.journal or folders.journal
    figures = FigureFiles(folders.figures).refused
    findings = [*check_journal(path), *CourseFiles(folders.courses).refused(), *((figures,) if figures else ())]
    for finding in findings:
        print(finding)
    print(f"{path}: {'sound' if not findings else f'{len(findings)} found'}")
    return 1 if findings else 0


def export_words(place: Place, path: Path) -> int:
    """Write every word into a CSV file."""
    with house(place) as built:
        if place.is_demo:
            fill_with_demo(built)
        write_bytes(path, built.lexicon.written().encode("utf-8", "replace"))
    print(path.resolve())
    return 0


def import_words(place: Place, path: Path, *, only_try: bool) -> int:
    """Take the words of a CSV file over, all or none, and print what that changes; return 1 if a line has an error."""
    with house(place) as built:
        plan = built.lexicon.plan(read_bytes(path, MOST_BYTES + 1))
        for trouble in plan.troubles:
            print(f"{path}, {trouble}" if trouble.line else f"{path}: {trouble}", file=sys.stderr)
        for change in plan.changes:
            print(f"line {change.line}: {change.name}, {change.told}")
        for note in plan.notes:
            print(note)
        if plan.can_be_taken and not only_try:
            built.lexicon.take(plan, path.name)
        print(f"Only tried. {plan.told}" if only_try else plan.told)
    return 1 if plan.troubles else 0


# -- the window


def has_screen() -> bool:
    """Say whether a window can be shown here."""
    return machine.has_display()


def open_window(place: Place, *, exit_when_ready: bool = False) -> int:
    """Open the window and return its exit code."""
    if not has_screen() and "QT_QPA_PLATFORM" not in os.environ:
        print(NO_DISPLAY, file=sys.stderr)
        return 1
    if not _has_libraries(needs_window=has_screen()):
        return 1
    from tastebook.wiring.patience import LeftWhileOpening, shown_in_a_window
    from tastebook.wiring.program import run

    try:
        with house(place, patience=shown_in_a_window) as built:
            if place.is_demo:
                fill_with_demo(built)
            return run(built, exit_when_ready=exit_when_ready)
    except LeftWhileOpening:
        return 0


def rehearse(place: Place, out: Path | None) -> int:
    """Play the demo tasting through the window, off-screen if there is no display, and say what was written."""
    if not _has_libraries(needs_window=has_screen()):
        return 1
    from tastebook.services.rehearsal import ScriptedClock
    from tastebook.wiring.tour import play

    scenario = tomllib.loads((files("tastebook.demo") / DEMO).read_text(encoding="utf-8"))
    script = next(row for row in scenario["sessions"] if row.get("tour"))
    script["name"] = next(lot["name"] for lot in scenario["lots"] if lot["key"] == script["lot"])
    clock = ScriptedClock(script["began"])
    with house(place, clock) as built:
        fill_with_demo(built, without_tour=True)
        return play(built, clock, script, out or Path.cwd() / "out")


def _has_libraries(*, needs_window: bool) -> bool:
    missing = machine.missing_libraries(needs_window=needs_window)
    if missing:
        print(machine.advice(missing), file=sys.stderr)
    return not missing
