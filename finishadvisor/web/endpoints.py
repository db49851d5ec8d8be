"""Forms as endpoints: read, carried out once, and answered, whether they were refused or overtaken."""

from collections.abc import Awaitable, Callable, Sequence
from typing import Final

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response

from finishadvisor.errors import ChangedMeanwhileError, FinishAdvisorError, JobError
from finishadvisor.web.forms import ONCE, Fields, entered, read_form
from finishadvisor.web.jobs import NotListedError
from finishadvisor.web.pages.conflict import conflict_page
from finishadvisor.web.site import site_of

PostHandler = Callable[[Request, Fields], Response]
AgainHandler = Callable[[Request, str, Fields], Response]
UploadHandler = Callable[[Request, Fields, list[UploadFile]], Response]
Endpoint = Callable[[Request], Awaitable[Response]]

SEE_OTHER: Final = 303


def posted(handler: PostHandler, again: AgainHandler | None = None) -> Endpoint:
    """Return an endpoint that reads the form, checks its token, and hands on its text fields.

    A change that was thought out for an older job file is answered by a page that shows what was entered.

    Args:
        handler: does what the form asks for.
        again: shows the form again with what was entered and why it was refused; a plain page does when None.
    """

    def answer(request: Request, fields: Fields) -> Response:
        try:
            return _once(request, fields, (), lambda: handler(request, fields))
        except ChangedMeanwhileError:
            return conflict_page(request, fields)
        except NotListedError:
            raise
        except FinishAdvisorError as error:
            if again is None:
                raise
            return again(request, "\n".join(_lines_of(error)), fields)

    async def endpoint(request: Request) -> Response:
        fields, _ = await read_form(request)
        return await run_in_threadpool(answer, request, fields)

    return endpoint


def _lines_of(error: FinishAdvisorError) -> tuple[str, ...]:
    return error.mistakes if isinstance(error, JobError) else (str(error),)


def uploaded(handler: UploadHandler) -> Endpoint:
    """Return an endpoint like `posted` whose handler is also given the files."""

    def answer(request: Request, fields: Fields, files: list[UploadFile]) -> Response:
        return _once(request, fields, files, lambda: handler(request, fields, files))

    async def endpoint(request: Request) -> Response:
        fields, files = await read_form(request)
        return await run_in_threadpool(answer, request, fields, files)

    return endpoint


def _once(request: Request, fields: Fields, files: Sequence[UploadFile], do: Callable[[], Response]) -> Response:
    """Carry a form out, unless the very same one was carried out before: a thumb taps twice, a browser sends again.

    Only what went well is kept: a form that was refused may be sent again.
    """
    mark = fields.get(ONCE)
    if not mark:
        return do()
    sent = tuple((file.filename, file.size) for file in files)
    key = (mark, request.url.path, tuple(sorted(entered(fields).items())), sent)
    answer: Response = site_of(request).answered.run(key, do, lambda response: response.status_code == SEE_OTHER)
    return answer
