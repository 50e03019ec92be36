"""A process of its own for what takes longer; it gives up the moment it is asked for something else."""

from __future__ import annotations

import json
import os
import queue
import signal
import sys
import threading
from typing import IO, Any

from rigcheck.page.later import Job, Memory, facts

_AWAY = getattr(signal, "SIGUSR1", None)


class GivenUpError(Exception):
    """Nobody wants the rest."""


class _Worker:
    """Jobs in, facts out, a line of JSON each."""

    def __init__(self, asked: IO[str], told: IO[str]) -> None:
        self._asked, self._told = asked, told
        self._jobs: queue.SimpleQueue[dict[str, Any] | None] = queue.SimpleQueue()
        self._working = False
        self._memory = Memory()

    def run(self) -> None:
        """Work until nobody asks any more."""
        if _AWAY is not None:
            signal.signal(_AWAY, self._give_up)
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever started this ends it by closing its line
        threading.Thread(target=self._listen, daemon=True).start()
        while (asked := self._jobs.get()) is not None:
            if asked and self._jobs.empty():
                self._work(asked)

    def _listen(self) -> None:
        for line in self._asked:
            self._jobs.put(json.loads(line))
            if self._working and _AWAY is not None:
                os.kill(os.getpid(), _AWAY)
        os._exit(0)

    def _give_up(self, *_: object) -> None:
        if self._working:
            self._working = False
            raise GivenUpError

    def _work(self, asked: dict[str, Any]) -> None:
        number, whole = asked.pop("number"), False
        try:
            self._working = True
            for fact in facts(Job(**asked), memory=self._memory):
                if not self._jobs.empty():
                    break
                self._tell({"number": number, **fact})
            else:
                whole = True
            self._working = False
        except GivenUpError:
            pass
        except Exception as error:  # a fact that cannot be had is told and is no end of the page
            self._tell({"number": number, "kind": "bug", "text": type(error).__name__})
        self._working = False
        self._tell({"number": number, "kind": "end", "hash": asked["hash"], "whole": whole})

    def _tell(self, fact: dict[str, Any]) -> None:
        line = json.dumps(fact, ensure_ascii=False)
        working, self._working = self._working, False  # a line is told whole or not at all
        self._told.write(f"{line}\n")
        self._told.flush()
        self._working = working


def main() -> None:
    """Serve one page."""
    if hasattr(os, "nice"):
        os.nice(5)
    told = os.fdopen(os.dup(1), "w", encoding="utf-8")
    sys.stdout = sys.stderr
    _Worker(sys.stdin, told).run()


if __name__ == "__main__":
    main()
