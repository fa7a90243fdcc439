"""Work in a copy of the process: its outcome, its failures, and systems without copies."""

import os
import signal

import pytest

from elevation import beside as module
from elevation.beside import beside


def test_the_outcome_comes_from_another_process():
    here, wait = os.getpid(), beside(os.getpid)
    there = wait()
    assert there != here or not hasattr(os, "fork") or os.cpu_count() == 1


def test_more_than_a_pipe_holds():
    wait = beside(lambda: list(range(100_000)))
    assert wait() == list(range(100_000))


def test_what_fails_there_is_done_and_raised_here():
    def fail():
        raise LookupError("no such thing")

    wait = beside(fail)
    with pytest.raises(LookupError, match="no such thing"):
        wait()


def test_what_dies_there_is_done_here():
    here = os.getpid()

    def die():
        if os.getpid() != here:
            os.kill(os.getpid(), signal.SIGKILL)
        return "done here"

    assert beside(die)() == "done here"


def test_without_copies_it_is_done_when_asked_for(monkeypatch):
    monkeypatch.setattr(module.sys, "platform", "another")
    done = []
    wait = beside(lambda: done.append(1) or len(done))
    assert not done
    assert wait() == 1


def test_what_it_changes_is_lost():
    changed = []
    wait = beside(lambda: (changed.append(1), "outcome")[1])
    assert wait() == "outcome"
    assert changed == [] or (os.cpu_count() or 1) == 1 or not hasattr(os, "fork")
