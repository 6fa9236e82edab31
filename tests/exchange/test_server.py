"""The server for editors, spoken to over standard input and output by pygls' own client."""

from __future__ import annotations

import asyncio
import dataclasses
import sys
import typing
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

from lsprotocol import types as lsp
from pygls.lsp.client import BaseLanguageClient
from slabwright.design.model import Design
from slabwright.design.point import Point
from slabwright.exchange.as_typed import Reviewed, completions

DESIGN = """\
format: 1
job: {name: Pâtio 🧱}
units: {plan: ft, height: ft}
use: patio
points: {A: [0, 0], B: [9, 0], C: [9, 18], D: [0, 18]}
outline: [A, B, C, D]
thickness: {design: 4 in, form_board: 2x4}
joints:
  - {name: J1, kind: saw cut, from: [0, 9], to: [9, 9], depth: 1/2 in}
variances:
  - {rule: panel-aspect, at: P1, reason: agreed, accepted_by: engineer, date: 2026-01-05}
"""


def spoken(talk: Callable[[BaseLanguageClient, list[lsp.PublishDiagnosticsParams]], Awaitable[None]]) -> None:
    """Start a server, say hello, talk, and take leave."""

    async def whole() -> None:
        client = BaseLanguageClient("test", "1")
        told: list[lsp.PublishDiagnosticsParams] = []
        client.feature(lsp.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)(lambda one: told.append(one))
        await client.start_io(sys.executable, "-m", "slabwright", "serve")
        hello = await client.initialize_async(lsp.InitializeParams(lsp.ClientCapabilities()))
        assert hello.capabilities.hover_provider and hello.capabilities.completion_provider
        client.initialized(lsp.InitializedParams())
        await talk(client, told)
        await client.shutdown_async(None)
        client.exit(None)
        await client.stop()

    asyncio.run(asyncio.wait_for(whole(), 120))


async def next_told(told: list[lsp.PublishDiagnosticsParams], seen: int) -> lsp.PublishDiagnosticsParams:
    while len(told) <= seen:
        await asyncio.sleep(0.02)
    return told[seen]


def test_an_editor_is_told_shown_and_helped(tmp_path: Path) -> None:
    uri = (tmp_path / "pad.slab.yaml").as_uri()
    document = lsp.TextDocumentIdentifier(uri)

    async def talk(client: BaseLanguageClient, told: list[lsp.PublishDiagnosticsParams]) -> None:
        client.text_document_did_open(lsp.DidOpenTextDocumentParams(lsp.TextDocumentItem(uri, "yaml", 1, DESIGN)))
        first = await next_told(told, 0)
        shallow = next(one for one in first.diagnostics if one.code == "joint-depth")
        assert shallow.severity == lsp.DiagnosticSeverity.Error
        assert shallow.range.start.line == 8 and "To pass: " in shallow.message

        hover = await client.text_document_hover_async(lsp.HoverParams(document, lsp.Position(8, 20)))
        assert hover and "### joint-depth" in hover.contents.value and "#### Why it matters" in hover.contents.value
        hover = await client.text_document_hover_async(lsp.HoverParams(document, lsp.Position(10, 14)))
        assert hover and hover.contents.value.startswith("### panel-aspect")

        actions = await client.text_document_code_action_async(
            lsp.CodeActionParams(document, shallow.range, lsp.CodeActionContext([shallow]))
        )
        fix = next(one for one in actions if one.diagnostics)
        (edit,) = fix.edit.changes[uri]
        fixed = applied(DESIGN, edit)
        assert fixed == DESIGN.replace("1/2 in}", "1 in}")

        def typed(version: int, text: str) -> None:
            client.text_document_did_change(
                lsp.DidChangeTextDocumentParams(
                    lsp.VersionedTextDocumentIdentifier(version, uri),
                    [lsp.TextDocumentContentChangeWholeDocument(text)],
                )
            )

        typed(2, "half typed: [")
        typed(3, fixed)  # at once: the first is not reviewed
        second = await next_told(told, 1)
        assert second.version == 3 and "joint-depth" not in {one.code for one in second.diagnostics}

        typed(4, DESIGN.replace("rule: panel-aspect", "rule: "))
        broken = await next_told(told, 2)
        assert {one.severity for one in broken.diagnostics} == {lsp.DiagnosticSeverity.Error}
        found = await client.text_document_completion_async(lsp.CompletionParams(document, lsp.Position(10, 11)))
        assert {"panel-aspect", "joint-depth"} <= {one.label for one in found}
        found = await client.text_document_completion_async(lsp.CompletionParams(document, lsp.Position(5, 13)))
        assert [one.label for one in found] == ["A", "B", "C", "D"]
        found = await client.text_document_completion_async(lsp.CompletionParams(document, lsp.Position(10, 18)))
        assert any(one.detail == "edge" for one in found)

        client.text_document_did_close(lsp.DidCloseTextDocumentParams(document))
        assert not (await next_told(told, 3)).diagnostics

    spoken(talk)


def test_columns_are_counted_as_the_protocol_does() -> None:
    """A brick takes two UTF-16 units (LSP 3.17, text documents)."""
    from slabwright.exchange import server
    from slabwright.exchange.as_typed import Remark

    (line,) = ["job: {name: 🧱, por: x}"]
    shown = server._diagnostic(Remark(1, line.index("por") + 1, "error", "", "no such key"), [line])

    assert (shown.range.start.character, shown.range.end.character) == (line.index("por") + 1, len(line) + 1)
    assert server._column([line], shown.range.start) == line.index("por") + 1


def applied(text: str, edit: lsp.TextEdit) -> str:
    """The text after an edit, positions counted in UTF-16 units."""
    lines = text.split("\n")
    start, end = (
        sum(len(line) + 1 for line in lines[: at.line])
        + len(lines[at.line].encode("utf-16-le")[: 2 * at.character].decode("utf-16-le"))
        for at in (edit.range.start, edit.range.end)
    )
    return text[:start] + edit.new_text + text[end:]


def test_an_edit_changes_no_more_than_differs() -> None:
    from slabwright.exchange.server import _edit

    pairs = [
        ("a\nb\nc\n", "a\nx\ny\nc\n"),
        ("a\nb", "a\nb\nc"),
        ("a\n", "b\n"),
        ("a", ""),
        ("a\na\n", "a\n"),
        ("", "a"),
    ]
    for before, after in [*pairs, ("🧱 1\nb", "🧱 2\nb")]:
        edit = _edit(before, after)
        assert applied(before, edit) == after
        assert len(edit.new_text) <= len(after)
    assert _edit("🧱 1\nb", "🧱 2\nb").range == lsp.Range(lsp.Position(0, 3), lsp.Position(0, 4))


def keys_of_points(record: Any, seen: set[Any]) -> set[str]:
    """The keys of the classes of a design under which a place on the plan stands."""
    if typing.get_args(record):
        return set().union(*(keys_of_points(part, seen) for part in typing.get_args(record)))
    if record in seen or not (hasattr(record, "_fields") or dataclasses.is_dataclass(record)):
        return set()
    seen.add(record)
    hints = typing.get_type_hints(record)
    found = {key for key, hint in hints.items() if Point in (hint, *typing.get_args(hint))}
    return found.union(*(keys_of_points(hint, seen) for hint in hints.values()))


def test_points_complete_under_every_key_that_takes_them() -> None:
    """Those of the schema in other words: the ends of a joint and of an arc."""
    keys = {*keys_of_points(Design, {Point}) - {"points"}, "from", "to", "arc_to"}
    for key in keys:
        text = f"points: {{A: [0, 0], B2: [9, 0]}}\nparts:\n  - {{name: x, {key}: [A, "
        offered = completions(Reviewed(text, ()), text, 3, len(text.split("\n")[2]) + 1)
        assert [name for name, _ in offered] == ["A", "B2"], key
