"""Send jobs to the worker and bring its facts to whoever waits for them."""

from __future__ import annotations

import asyncio
import json
import os
import subprocess
import sys
import threading
from collections.abc import AsyncIterator
from contextlib import suppress
from dataclasses import asdict, dataclass, field

from rigcheck.page.later import Job
from rigcheck.wording.plain import Plain


@dataclass(slots=True)
class Errands:
    """The worker of a page, started when it is first needed; a newer job ends an older one."""

    _worker: subprocess.Popen[str] | None = None
    _number: int = 0
    _waiting: dict[int, tuple[asyncio.AbstractEventLoop, asyncio.Queue[Plain]]] = field(default_factory=dict)

    async def facts(self, job: Job) -> AsyncIterator[Plain]:
        """Facts of a job until it is done, or until a newer one takes its place.

        Args:
            job: What is asked.
        """
        self._number += 1
        number = self._number
        waits: asyncio.Queue[Plain] = asyncio.Queue()
        self._waiting[number] = (asyncio.get_running_loop(), waits)
        try:
            self._send({"number": number, **asdict(job)})
            while (fact := await waits.get())["kind"] != "end":
                yield fact
            yield fact  # whether it was all, or a newer job took its place
        finally:
            del self._waiting[number]
            if number == self._number:
                with suppress(OSError):
                    self._send({})

    def close(self) -> None:
        """End the worker."""
        worker, self._worker = self._worker, None
        if worker is not None:
            assert worker.stdin is not None
            with suppress(OSError):
                worker.stdin.close()
            worker.kill()
            worker.wait()

    def _send(self, asked: Plain) -> None:
        if self._worker is None or self._worker.poll() is not None:
            self._start()
        assert self._worker is not None and self._worker.stdin is not None
        self._worker.stdin.write(json.dumps(asked, ensure_ascii=False) + "\n")
        self._worker.stdin.flush()

    def _start(self) -> None:
        self._worker = subprocess.Popen(
            [sys.executable, "-m", "rigcheck.page.worker"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            encoding="utf-8",
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
        )
        threading.Thread(target=self._bring, args=(self._worker,), daemon=True).start()

    def _bring(self, worker: subprocess.Popen[str]) -> None:
        assert worker.stdout is not None
        with worker.stdout:
            for line in worker.stdout:
                fact = json.loads(line)
                self._hand_over(fact.pop("number"), fact)
        for number in list(self._waiting):
            self._hand_over(number, {"kind": "end", "whole": False})

    def _hand_over(self, number: int, fact: Plain) -> None:
        found = self._waiting.get(number)
        if found is not None:
            loop, waits = found
            with suppress(RuntimeError):  # nobody is there any more
                loop.call_soon_threadsafe(waits.put_nowait, fact)
