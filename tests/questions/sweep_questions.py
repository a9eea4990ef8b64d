"""Go through the makers of questions seed by seed, and print what is not as it should be.

    python tests/questions/sweep_questions.py 2000

prints a line for each maker: questions, faults, distinct texts and answers, milliseconds a question. The
tests go through a hundred seeds.
"""

from __future__ import annotations

import sys
import time

from question_checks import BOARDS, faults, made
from question_truth import TRUE_BY, untruths

from fizzplate.questions.sets import MAKERS


def swept(name, seeds):
    """Faults, texts and answers of a maker over seeds, with the wordings in turn."""
    found, texts, answers = [], set(), set()
    boards = list(BOARDS.values())
    for seed in range(seeds):
        wording = boards[seed % len(boards)] if seed % 2 else boards[0]
        try:
            question = made(name, seed, wording)
            wrong = [*faults(question, name, wording), *untruths(question, wording)]
        except Exception as problem:
            wrong = [repr(problem)]
        else:
            texts.add(question.text)
            answers.add(question.answer)
        found += [f"{name}, seed {seed}: {each}" for each in wrong]
    return found, texts, answers


def main():
    seeds = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    print(f"{'maker':36}{'faults':>8}{'texts':>8}{'answers':>9}{'ms':>7}  checked by the model")
    everything = []
    for name in MAKERS:
        begun = time.perf_counter()
        found, texts, answers = swept(name, seeds)
        each_ms = 1e3 * (time.perf_counter() - begun) / seeds
        model = "yes" if name in TRUE_BY else ""
        print(f"{name:36}{len(found):8}{len(texts):8}{len(answers):9}{each_ms:7.2f}  {model}")
        everything += found
    print(f"{len(MAKERS)} makers, {seeds} seeds each, {len(everything)} faults")
    print("\n".join(everything[:50]))
    sys.exit(bool(everything))


if __name__ == "__main__":
    main()
