"""Work on many files on all cores: chunks go to processes that share nothing, results come back in order.

Processes are forked where the system can (they start at once, with everything loaded), else started anew; nothing here
needs them forked. Workers leave Ctrl-C to the one that started them, and end when it does.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing.connection import wait
from pathlib import Path
from types import FrameType
from typing import Any, TextIO, TypeVar

T = TypeVar("T")

CHUNK_AT_MOST = 16
ONE_CORE_BELOW = 8  # fewer files are done before other processes would be up


def cores() -> int:
    """How many cores this program may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def in_order(
    work: Callable[..., T],
    paths: Sequence[Path],
    extra: tuple[Any, ...],
    jobs: int | None,
    prepare: Callable[..., None],
    lost: Callable[..., T],
) -> Iterator[T]:
    """``work(path, *extra)`` of every path, in order.

    ``jobs`` processes do it, by default one for each core; with one, no other process is started.
    ``prepare(*extra)`` runs once before they start. ``lost(path, *extra)`` stands for a path whose process was ended
    from outside, and then again when it was tried alone.
    """
    count = min(jobs or (cores() if len(paths) >= ONE_CORE_BELOW else 1), len(paths))
    prepare(*extra)
    if count <= 1:
        for path in paths:
            yield work(path, *extra)
        return
    size = max(1, min(CHUNK_AT_MOST, len(paths) // (count * 4)))
    chunks = [paths[at : at + size] for at in range(0, len(paths), size)]
    before = signal.getsignal(signal.SIGTERM)
    in_main = threading.current_thread() is threading.main_thread()
    if in_main:
        signal.signal(signal.SIGTERM, _stop)
    try:
        for chunk, done in _chunks_in_order(work, chunks, extra, count):
            if done is None:
                for path in chunk:
                    ((_, one),) = _chunks_in_order(work, [[path]], extra, 1)
                    yield one[0] if one is not None else lost(path, *extra)
            else:
                yield from done
    finally:
        if in_main:
            signal.signal(signal.SIGTERM, before)


def _stop(number: int, frame: FrameType | None) -> None:
    """Asked to end: end as on Ctrl-C, the workers too."""
    raise KeyboardInterrupt


def _chunks_in_order(
    work: Callable[..., T], chunks: Sequence[Sequence[Path]], extra: tuple[Any, ...], count: int
) -> Iterator[tuple[Sequence[Path], list[T] | None]]:
    """Each chunk and its results, None where its process was ended; few chunks are under way at a time."""
    pool = _pool(count)
    waiting = deque(chunks)
    under_way: deque[tuple[Sequence[Path], Future[list[T]] | None]] = deque()
    broken = False
    try:
        while waiting or under_way:
            if broken and not under_way:
                pool, broken = _pool(count), False
            while waiting and not broken and len(under_way) < 4 * count:
                chunk = waiting.popleft()
                try:
                    under_way.append((chunk, pool.submit(_chunk, work, chunk, extra)))
                except BrokenProcessPool:
                    under_way.append((chunk, None))
                    broken = True
            chunk, future = under_way.popleft()
            done = None
            try:
                done = None if future is None else future.result()
            except BrokenProcessPool:
                broken = True
            yield chunk, done
    except BaseException:
        pool.shutdown(wait=False, cancel_futures=True)
        for process in multiprocessing.active_children():
            process.terminate()
        raise
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _pool(count: int) -> ProcessPoolExecutor:
    """A pool of ``count`` workers, forked where that is safe."""
    way = "fork" if "fork" in multiprocessing.get_all_start_methods() and sys.platform != "darwin" else "spawn"
    return ProcessPoolExecutor(count, multiprocessing.get_context(way), _begin)


def _chunk(work: Callable[..., T], paths: Sequence[Path], extra: tuple[Any, ...]) -> list[T]:
    return [work(path, *extra) for path in paths]


def _begin() -> None:
    """In a new worker: Ctrl-C is not for it, and it outlives nobody."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)


def told(outcomes: Iterator[T], whole: int, stream: TextIO) -> Iterator[T]:
    """The same outcomes; says between them how far it is, on a terminal only, on a line that is gone afterwards."""
    if whole < 2 or not stream.isatty():
        yield from outcomes
        return
    done = 0
    stream.write(f"reviewing {whole:,} designs")
    stream.flush()
    try:
        for one in outcomes:
            stream.write("\r\x1b[K")
            stream.flush()
            yield one
            sys.stdout.flush()
            done += 1
            stream.write(f"reviewed {done:,} of {whole:,}")
            stream.flush()
    finally:
        stream.write("\r\x1b[K")
        stream.flush()
