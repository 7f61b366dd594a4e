"""Start from the command line: the window, or a verb that needs no display."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from tastebook.domain.errors import TastebookError
from tastebook.version import VERSION

ABOUT: Final = """\
A tasting journal with an infusion timer, for people who buy and sell whole-leaf tea.

Without a verb the window opens. The verbs need no display:
  sessions            list the sessions of the journal with their names
  pdf SESSION OUT     print a session as a PDF; SESSION is a name from the list, its beginning, or "last"
  words export FILE   write every word of tasting, your own among them, into a CSV file
  words import FILE   take the words of such a file over, all or none; errors are told by line
  check               look the journal and your own courses over, and say what is found
"""
ENDING: Final = """\
The journal lives in the data folder of your platform; --journal names another file. Water that makes tea scalds, and
this program says so where it is handled: it gives no medical advice, and local rules come first.
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run Tastebook and return its exit code: 0 if all went well, 1 for trouble in words, 2 for wrong arguments."""
    asked = _parser().parse_args(arguments)
    try:
        return _run(asked)
    except TastebookError as exc:
        print(f"tastebook: {exc}", file=sys.stderr)
        return 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tastebook", description=ABOUT, epilog=ENDING, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--version", action="version", version=f"Tastebook {VERSION}")
    parser.add_argument("--journal", type=Path, metavar="FILE", help="open this journal instead of your own")
    parser.add_argument("--demo", action="store_true", help="open a throw-away copy of the demo journal")
    parser.add_argument(
        "--rehearse", action="store_true", help="play the demo tasting through the window by itself, then end"
    )
    parser.add_argument("--out", type=Path, metavar="FOLDER", help="where --rehearse writes its page and pictures")
    parser.add_argument(
        "--exit-when-ready", action="store_true", help="end once the window is drawn and idle: for measuring"
    )
    verbs = parser.add_subparsers(dest="verb", metavar="VERB")
    verbs.add_parser("sessions", help="list the sessions of the journal")
    pdf = verbs.add_parser("pdf", help="print a session as a PDF")
    pdf.add_argument("session", metavar="SESSION", help="its name from the list, the beginning of it, or “last”")
    pdf.add_argument("out", metavar="OUT", type=Path, help="the file to write")
    pdf.add_argument("--paper", choices=("a4", "us-letter"), help="the paper, by default that of your settings")
    words = verbs.add_parser("words", help="write the words of tasting into a CSV file, or take them over from one")
    ways = words.add_subparsers(dest="way", metavar="WAY", required=True)
    ways.add_parser("export", help="write every word").add_argument("file", metavar="FILE", type=Path)
    taking = ways.add_parser("import", help="take words over, all or none")
    taking.add_argument("file", metavar="FILE", type=Path)
    taking.add_argument("--dry-run", action="store_true", help="only say what would change")
    verbs.add_parser("check", help="look the journal and your own courses over")
    return parser


def _run(asked: argparse.Namespace) -> int:
    from tastebook.wiring import verbs
    from tastebook.wiring.house import Place

    place = Place(journal=asked.journal, is_demo=asked.demo or asked.rehearse)
    if asked.verb == "sessions":
        return verbs.list_sessions(place)
    if asked.verb == "pdf":
        return verbs.write_pdf(place, asked.session, asked.out, asked.paper)
    if asked.verb == "words" and asked.way == "export":
        return verbs.export_words(place, asked.file)
    if asked.verb == "words":
        return verbs.import_words(place, asked.file, only_try=asked.dry_run)
    if asked.verb == "check":
        return verbs.check(place)
    if asked.rehearse or (asked.demo and not asked.exit_when_ready and not verbs.has_screen()):
        return verbs.rehearse(place, asked.out)
    return verbs.open_window(place, exit_when_ready=asked.exit_when_ready)


if __name__ == "__main__":
    sys.exit(main())
