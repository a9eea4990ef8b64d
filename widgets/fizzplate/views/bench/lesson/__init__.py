"""What a class does at the bench: predicts, observes, tests, follows the explanation, fills a table."""

from fizzplate.views.bench.lesson.lesson_data import after, before

__all__ = [
    "after",
    "before",
]
