"""Slow work beside the page's own: the last that was asked for is handed over, and nothing else."""

from __future__ import annotations

import asyncio
from threading import Event

from tests.serving.apart import run_apart

from fizzplate.views.controls.background_work import BackgroundWork


def test_only_what_was_asked_for_last_is_handed_over():
    async def asked_twice():
        background, may_end, shown, told = BackgroundWork(), Event(), [], []
        arrived = asyncio.Event()
        given_up = []

        def first(is_wanted):
            may_end.wait(10)
            given_up.append(not is_wanted())
            return "first"

        def show(made):
            shown.append(made())
            arrived.set()

        background.begin(first, done=show, waiting=lambda: told.append("first is awaited"))
        background.begin(
            lambda _: "second", done=show, waiting=lambda: told.append("second is awaited")
        )
        assert shown == []
        may_end.set()
        await asyncio.wait_for(arrived.wait(), 10)
        return shown, told, given_up

    shown, told, given_up = run_apart(asked_twice())
    assert shown == ["second"]
    assert told == ["first is awaited", "second is awaited"]
    assert given_up == [True]  # work that is not wanted can end early


def test_what_is_quick_is_not_said_to_be_awaited_and_an_error_is_handed_over():
    async def question():
        background, shown, told = BackgroundWork(), [], []

        def show(made):
            try:
                shown.append(made())
            except ZeroDivisionError:
                shown.append("refused")

        background.begin(lambda _: "quick", done=show, waiting=lambda: told.append("awaited"))
        background.begin(lambda _: 1 / 0, done=show, waiting=lambda: told.append("awaited"))
        return shown, told

    assert run_apart(question()) == (["quick", "refused"], [])


def test_what_is_forgotten_is_not_handed_over():
    async def question():
        background, may_end, shown = BackgroundWork(), Event(), []
        background.begin(
            lambda _: may_end.wait(10), done=lambda made: shown.append(made()), waiting=bool
        )
        background.forget()
        may_end.set()
        background.begin(lambda _: "next", done=lambda made: shown.append(made()), waiting=bool)
        return shown

    assert run_apart(question()) == ["next"]
