"""Work on many files on all cores: chunks go to processes that share nothing, results come back in order.

Processes are forked where the system can (they start at once, with everything loaded), else started anew; nothing here
needs them forked. Each has a pipe of its own, so that one can be ended at any moment, even while it writes, and nobody
waits for it. Workers leave Ctrl-C to the one that started them, and end when it does.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any, Generic, TextIO, TypeVar

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

S = TypeVar("S")
T = TypeVar("T")

CHUNK_AT_MOST = 32
WAITED_FOR = 60  # processes that Windows lets one wait for at once (WaitForMultipleObjects: 64)
AHEAD = 4  # chunks begun for each worker before the first of them is told
ONE_CORE_BELOW = 8  # fewer files are done before other processes would be up


def cores() -> int:
    """How many cores this program may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def in_order(
    work: Callable[..., Iterator[T]],
    paths: Sequence[S],
    extra: tuple[Any, ...],
    jobs: int | None,
    prepare: Callable[..., None],
    lost: Callable[..., T],
) -> Iterator[T]:
    """What ``work(some paths, *extra)`` yields, one for each path, in order.

    ``jobs`` processes do it, by default one for each core; with one, no other process is started.
    ``prepare(*extra)`` runs once before they start. ``lost(path, *extra)`` stands for a path whose process was ended
    from outside, and then again when it was tried alone.
    """
    most = WAITED_FOR if sys.platform == "win32" else len(paths)
    count = min(most, jobs or (cores() if len(paths) >= ONE_CORE_BELOW else 1), len(paths))
    prepare(*extra)
    if count <= 1:
        yield from work(paths, *extra)
        return
    size = max(1, min(CHUNK_AT_MOST, len(paths) // (count * 4)))
    chunks = [paths[at : at + size] for at in range(0, len(paths), size)]
    for chunk, done in _chunks_in_order(work, chunks, extra, count):
        if done is None:
            for path in chunk:
                ((_, one),) = _chunks_in_order(work, [[path]], extra, 1)
                yield one[0] if one is not None else lost(path, *extra)
        else:
            yield from done


def _chunks_in_order(
    work: Callable[..., Iterator[T]], chunks: Sequence[Sequence[S]], extra: tuple[Any, ...], count: int
) -> Iterator[tuple[Sequence[S], list[T] | None]]:
    """Each chunk and its results, None where its process was ended; few chunks are under way at a time."""
    workers: list[_Worker[T]] = []
    waiting = deque(enumerate(chunks))
    done: dict[int, list[T] | None] = {}
    try:
        for number, chunk in enumerate(chunks):
            while number not in done:
                while len(workers) < count and waiting:
                    workers.append(_Worker(work, extra))
                for worker in workers:
                    if worker.at is None and waiting and waiting[0][0] < number + AHEAD * count:
                        worker.give(*waiting.popleft())
                for worker in _answering(workers):
                    at = worker.at
                    results = worker.take()
                    if at is not None:
                        done[at] = results
                    if results is None:
                        workers.remove(worker)
            yield chunk, done.pop(number)
    finally:
        for worker in workers:
            worker.end()


def _answering(workers: Sequence[_Worker[T]]) -> list[_Worker[T]]:
    """The workers that have something to say, once one of them has: results, or that their process has ended."""
    from multiprocessing.connection import wait  # with multiprocessing 7 ms

    ready = set(map(id, wait([worker.pipe for worker in workers])))
    return [worker for worker in workers if id(worker.pipe) in ready]


class _Worker(Generic[T]):
    """A process that works on one chunk at a time."""

    def __init__(self, work: Callable[..., Iterator[T]], extra: tuple[Any, ...]) -> None:
        import multiprocessing  # 7 ms with what it loads, and a review of one file starts no process

        way = "fork" if "fork" in multiprocessing.get_all_start_methods() and sys.platform != "darwin" else "spawn"
        context = multiprocessing.get_context(way)
        self.at: int | None = None  # the number of the chunk it is at
        self.pipe, other = context.Pipe()
        self._process = context.Process(target=_serve, args=(other, work, extra), daemon=True)  # type: ignore[attr-defined]
        with _signals_held():
            self._process.start()
        other.close()

    def give(self, number: int, chunk: Sequence[S]) -> None:
        """Let it begin a chunk."""
        self.at = number
        with suppress(OSError):  # it has ended: its pipe tells
            self.pipe.send(chunk)

    def take(self) -> list[T] | None:
        """The results of its chunk, None when its process has ended; raises what the work raised."""
        try:
            results, failure = self.pipe.recv()
        except (EOFError, OSError):
            self.end()
            return None
        if failure is not None:
            raise failure
        self.at = None
        answer: list[T] = results
        return answer

    def end(self) -> None:
        """End the process, whatever it is doing."""
        self._process.kill()  # before its pipe is closed, or it might still tell that it has nobody to listen to
        self._process.join()
        self.pipe.close()


@contextmanager
def _signals_held() -> Iterator[None]:
    """Signals wait meanwhile: a new process inherits that, and lets them in once it knows what to do with them."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _serve(pipe: Connection, work: Callable[..., Iterator[T]], extra: tuple[Any, ...]) -> None:
    """In a new process: work on what comes. Ctrl-C is not for it, and it outlives nobody."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT, signal.SIGTERM})
    threading.Thread(target=_end_with_parent, daemon=True).start()
    while True:
        chunk = pipe.recv()
        try:
            pipe.send((list(work(chunk, *extra)), None))
        except Exception as error:
            pipe.send((None, error))


def _end_with_parent() -> None:
    import multiprocessing  # 7 ms, as above
    from multiprocessing.connection import wait

    parent = multiprocessing.parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)


def told(outcomes: Iterator[T], whole: int, stream: TextIO) -> Iterator[T]:
    """The same outcomes; says between them how far it is, on a terminal only, on a line that is gone afterwards."""
    if whole < 2 or not stream.isatty():
        yield from outcomes
        return
    gone = (
        "\r" + " " * 40 + "\r" if sys.platform == "win32" else "\r\x1b[K"
    )  # not every console there knows of the other
    done = 0
    stream.write(f"reviewing {whole:,} designs")
    stream.flush()
    try:
        for one in outcomes:
            stream.write(gone)
            stream.flush()
            yield one
            sys.stdout.flush()
            done += 1
            stream.write(f"reviewed {done:,} of {whole:,}")
            stream.flush()
    finally:
        stream.write(gone)
        stream.flush()
