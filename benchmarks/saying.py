"""How long it takes to understand what is said: `python benchmarks/saying.py`.

A passage of 2,000 words, put together from the corpus, and every keystroke of a line of 200 letters, understood anew
from its beginning each time, as the Bench does.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from statistics import median, quantiles

sys.path.insert(0, str(Path(__file__).parents[1]))

from tastebook.domain.saying import understand
from tastebook.domain.vocabulary import Vocabulary
from tastebook.platform.wordlists import load_vocabulary
from tests.corpus.passages import passages

WORDS = 2000
LETTERS = 200
REPEATS = 15
GOAL_PASSAGE_MS = 50.0
GOAL_KEYSTROKE_MS = 5.0
TEXTURE = ("body", "surface", "grip", "bitterness", "huigan", "mouth_watering", "throat", "finish")
LINE = (
    "so the orchid has faded a little and there is more white peach now, a hint of cinnamon, no smoke at all, and in "
    "the empty cup strong honey and baked apple, perhaps a breath of lemon curd, silky, thick"
)


def main() -> None:
    begun_s = time.perf_counter()
    vocabulary = load_vocabulary()
    print(f"words and rules loaded in {(time.perf_counter() - begun_s) * 1000:.0f} ms")
    begun_s = time.perf_counter()
    understand("osmantus, a hint of umbrella", vocabulary)
    print(f"first words understood (phrases gathered) in {(time.perf_counter() - begun_s) * 1000:.0f} ms")
    passage = " ".join(" ".join(one.text for one in passages()).split()[:WORDS])
    told("2,000 words, never seen", [taken_ms(passage, vocabulary)], GOAL_PASSAGE_MS)
    told("2,000 words", [taken_ms(passage, vocabulary) for _ in range(REPEATS)], GOAL_PASSAGE_MS)
    line = LINE[:LETTERS].ljust(LETTERS, ".")
    typed = [line[:end] for end in range(1, LETTERS + 1)]
    told("each keystroke to 200 letters", [taken_ms(one, vocabulary) for one in typed], GOAL_KEYSTROKE_MS)
    told("each keystroke, texture asked", [taken_ms(one, vocabulary, TEXTURE) for one in typed], GOAL_KEYSTROKE_MS)


def taken_ms(text: str, vocabulary: Vocabulary, scales: tuple[str, ...] = ()) -> float:
    begun_s = time.perf_counter()
    understand(text, vocabulary, scales=scales)
    return (time.perf_counter() - begun_s) * 1000


def told(name: str, taken: list[float], goal_ms: float) -> None:
    late = quantiles(taken, n=20)[-1] if len(taken) > 1 else taken[0]
    print(f"{name:<32} median {median(taken):6.2f} ms   95 % {late:6.2f}   worst {max(taken):6.2f}   goal {goal_ms:g}")


if __name__ == "__main__":
    main()
