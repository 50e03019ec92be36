"""The routes of the page: a fixed table; nothing in a request ever names a file."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Awaitable, Callable, Mapping
from functools import partial
from importlib.resources import files
from typing import Any

import anyio
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route

from rigcheck.case.errors import CaseError
from rigcheck.output.html_style import STYLE
from rigcheck.page import papers
from rigcheck.page.asked_first import FIRST_ROWS
from rigcheck.page.asking import answer_form, changes_of_form, offer_form, offered, save_form, saved_by, whole_page
from rigcheck.page.changes import Changes, changes_of
from rigcheck.page.desk import Desk
from rigcheck.page.guard import (
    FORM,
    RefusalError,
    asked_by_form,
    asked_by_script,
    check_host,
    check_post,
    check_token,
    plainly,
)
from rigcheck.page.offers import conflict_offer, draft_offer
from rigcheck.page.saving import NotSavedError
from rigcheck.page.sheet import SCRIPTS
from rigcheck.page.typed import BadRequestError

BODY_TIME = 10.0  # s: a question is small and comes from this machine
_STATIC = {"page.css": "text/css", "icon.svg": "image/svg+xml", **dict.fromkeys(SCRIPTS, "text/javascript")}
Ask = Callable[[Request], Awaitable[Response]]


def build(desk: Desk, *, host: str) -> Any:
    """The application.

    Args:
        desk: What answers.
        host: Our own address and port.
    """
    answers = _Answers(desk, host)
    posts = {"/live": answers.live, "/later": answers.later}
    if not desk.read_only:
        posts |= {"/save": answers.saved, "/draft": answers.draft}
    routes = [Route("/", _guarded(answers.first), methods=["GET"])]
    routes += [Route(path, _guarded(answer), methods=["POST"]) for path, answer in posts.items()]
    folder = files("rigcheck.page") / "static"
    routes.append(Route(f"/{papers.STYLE}", _fixed(STYLE.encode(), "text/css"), methods=["GET"]))
    for name, kind in _STATIC.items():
        routes.append(Route(f"/{name}", _fixed((folder / name).read_bytes(), kind), methods=["GET"]))
    return _Door(Starlette(routes=routes), host=host, paths={route.path.encode(): _method(route) for route in routes})


class _Answers:
    """What is answered under each address, the work itself off the loop that serves."""

    def __init__(self, desk: Desk, host: str) -> None:
        self._desk, self._host = desk, host
        self._engine = anyio.CapacityLimiter(2)

    async def _run(self, work: Callable[..., Any], *given: Any) -> Any:
        return await anyio.to_thread.run_sync(partial(work, *given), limiter=self._engine)

    async def first(self, request: Request) -> Response:
        """The page."""
        check_token(request.query_params.get("key"), token=self._desk.key)
        return HTMLResponse(await self._run(_first_page, self._desk))

    async def live(self, request: Request) -> Response:
        """The whole check of the numbers on the page."""
        kind, asked = await _asked(request, self._desk, host=self._host)
        if kind == FORM:
            posted: Response = await self._run(_posted, self._desk, asked)
            return posted
        return JSONResponse(await self._run(self._desk.live, asked))

    async def later(self, request: Request) -> Response:
        """What takes longer, a line each as it is there."""
        kind, asked = await _asked(request, self._desk, host=self._host)
        if kind == FORM:
            raise RefusalError(415, "no JSON")
        job = self._desk.job(asked)

        async def lines() -> AsyncIterator[str]:
            async for fact in self._desk.errands.facts(job):
                yield json.dumps(fact, ensure_ascii=False) + "\n"

        return StreamingResponse(lines(), media_type="application/x-ndjson")

    async def draft(self, request: Request) -> Response:
        """Keep, take up or drop what is not saved; bring changes onto a file that was changed."""
        kind, asked = await _asked(request, self._desk, host=self._host)
        if kind == FORM:
            return HTMLResponse(await self._run(offer_form, self._desk, asked))
        return JSONResponse(await self._run(_draft, self._desk, asked))

    async def saved(self, request: Request) -> Response:
        """The file, written."""
        kind, asked = await _asked(request, self._desk, host=self._host)
        if kind == FORM:
            return HTMLResponse(await self._run(save_form, self._desk, asked))
        return JSONResponse(await self._run(_save, self._desk, asked))


def _method(route: Route) -> str:
    return "POST" if "POST" in (route.methods or ()) else "GET"


def _first_page(desk: Desk) -> str:
    rows = FIRST_ROWS if desk.book.path is None else {}
    try:
        base, note = desk.book.read().sha256, ""
    except CaseError as error:  # somebody spoiled the file, or took it away, since it was read
        base, note = desk.book.newest.sha256, f"This is the file as it was read last. Now: {error.problems[0]}"
    return whole_page(desk, Changes(base=base, rows=rows), note=note, offers=draft_offer(desk))


def _save(desk: Desk, asked: Mapping[str, Any]) -> dict[str, Any]:
    changes, name = changes_of(asked.get("changes")), asked.get("name")
    if not isinstance(name, str | None):
        raise BadRequestError("no name")
    desk.copy(changes)
    try:
        done = saved_by(desk, changes, name=name)
    except NotSavedError as error:
        return {"code": "conflict" if error.conflict else "refused", "why": str(error)}
    own = done.path == desk.book.path
    return {"code": "saved", "name": done.path.name, "base": done.copy.sha256 if own else changes.base, "own": own}


def _posted(desk: Desk, asked: Mapping[str, str]) -> Response:
    """The form of the page, its card or its packet."""
    do = asked.get("do")
    if do not in (papers.CARD, papers.PACKET):
        return HTMLResponse(answer_form(desk, asked))
    changes = changes_of_form(asked, desk=desk)
    try:
        if do == papers.CARD:
            return HTMLResponse(papers.card(desk, changes))
        name, raw = papers.packet(desk, changes)
    except NotSavedError as error:
        return HTMLResponse(whole_page(desk, changes, note=f"Not printed: {error}"))
    return Response(raw, media_type="text/html", headers={"Content-Disposition": f'attachment; filename="{name}"'})


def _draft(desk: Desk, asked: Mapping[str, Any]) -> dict[str, Any]:
    do, changes, take = asked.get("do", "keep"), changes_of(asked.get("changes")), asked.get("take", {})
    if not isinstance(take, dict):
        raise BadRequestError("no choice")
    if do == "keep":
        return {"kept": desk.keep_draft(changes)}
    if do == "look":
        return {"offer": conflict_offer(desk, changes)}
    done = offered(desk, changes, do=do, take=take)
    return desk.answered(done, view="side", anew=True)


def _fixed(body: bytes, kind: str) -> Ask:
    async def send(_: Request) -> Response:
        return Response(body, media_type=kind)

    return send


async def _asked(request: Request, desk: Desk, *, host: str) -> tuple[str, Mapping[str, Any]]:
    """A question of the page, its sender and size looked at before its body is read.

    Raises:
        RefusalError: It is none.
    """
    kind, length = check_post(request.scope["headers"], host=host)
    try:
        body = await asyncio.wait_for(request.body(), BODY_TIME)
    except TimeoutError:
        raise RefusalError(408, "too slow") from None
    if len(body) != length:
        raise RefusalError(400, "not of its length")
    asked = asked_by_form(body) if kind == FORM else asked_by_script(body)
    check_token(asked.get("token"), token=desk.token)
    return kind, asked


def _guarded(answer: Ask) -> Ask:
    """An answer whose refusals are one line of text."""

    async def send(request: Request) -> Response:
        try:
            return await answer(request)
        except RefusalError as refusal:
            return _refused(refusal)
        except BadRequestError as error:
            return _refused(plainly(error))
        except Exception as error:  # our own bug must read as one, and the page must go on
            return _refused(RefusalError(500, f"a bug in rigcheck ({type(error).__name__}); nothing was written"))

    return send


def _refused(refusal: RefusalError) -> Response:
    return PlainTextResponse(f"{refusal.why}\n", status_code=refusal.status, headers={"Connection": "close"})


class _Door:
    """Looks at host, path and method of every request before anything else does."""

    def __init__(self, app: Any, *, host: str, paths: Mapping[bytes, str]) -> None:
        self._app, self._host, self._paths = app, host, paths

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] != "http":
            return
        try:
            check_host(scope["headers"], host=self._host)
            raw = scope.get("raw_path", b"").partition(b"?")[0]
            if raw not in self._paths:
                raise RefusalError(404, "nothing here")
            if scope["method"] != self._paths[raw]:
                raise RefusalError(405, "not that way")
        except RefusalError as refusal:
            await _refused(refusal)(scope, receive, send)
            return
        await self._app(scope, receive, send)
