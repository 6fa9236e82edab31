"""The review in an editor as you type: a server of the Language Server Protocol 3.17 on standard input and output."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

from lsprotocol import types as lsp
from pygls import uris
from pygls.lsp.server import LanguageServer

from slabwright.exchange import as_typed
from slabwright.exchange.as_typed import Remark, Reviewed
from slabwright.review import reviewing

WAIT = 0.25  # s without a key before a text is reviewed
_SEVERITIES = {
    "error": lsp.DiagnosticSeverity.Error,
    "warning": lsp.DiagnosticSeverity.Warning,
    "information": lsp.DiagnosticSeverity.Information,
}


def start() -> None:
    """Serve one editor until it goes."""
    made().start_io()


def made() -> LanguageServer:
    """The server, with everything it answers."""
    server = LanguageServer("slabwright", "1", text_document_sync_kind=lsp.TextDocumentSyncKind.Full)
    desk = _Desk(server)
    kinds = lsp.CodeActionOptions(code_action_kinds=[lsp.CodeActionKind.QuickFix])
    signs = lsp.CompletionOptions(trigger_characters=["[", ",", " ", ":"])
    _answer(server, lsp.TEXT_DOCUMENT_DID_OPEN, desk.opened)
    _answer(server, lsp.TEXT_DOCUMENT_DID_CHANGE, desk.changed)
    _answer(server, lsp.TEXT_DOCUMENT_DID_SAVE, desk.saved)
    _answer(server, lsp.TEXT_DOCUMENT_DID_CLOSE, desk.closed)
    _answer(server, lsp.TEXT_DOCUMENT_HOVER, desk.hover)
    _answer(server, lsp.TEXT_DOCUMENT_CODE_ACTION, desk.quick_fixes, kinds)
    _answer(server, lsp.TEXT_DOCUMENT_COMPLETION, desk.completions, signs)
    return server


def _answer(server: LanguageServer, what: str, method: Callable[[Any], Awaitable[Any]], options: Any = None) -> None:
    """Let a method answer; a function of its own stands for it, for the library writes on what it is given."""

    async def answer(asked: Any) -> Any:
        return await method(asked)

    server.feature(what, options)(answer)


class _Desk:
    """The designs that are open, each with its last review."""

    def __init__(self, server: LanguageServer) -> None:
        self.server = server
        self.known: dict[str, Reviewed] = {}  # the last review by document
        self.worked: dict[str, Reviewed] = {}  # the last that could be made

    async def opened(self, asked: lsp.DidOpenTextDocumentParams) -> None:
        """Review a design as it is opened."""
        self.review(asked.text_document.uri)

    async def changed(self, asked: lsp.DidChangeTextDocumentParams) -> None:
        """Review it again once nobody has typed for a moment."""
        uri, version = asked.text_document.uri, asked.text_document.version
        await asyncio.sleep(WAIT)
        document = self.server.workspace.text_documents.get(uri)
        if document is not None and document.version == version:
            self.review(uri)

    async def saved(self, asked: lsp.DidSaveTextDocumentParams) -> None:
        """Review it again, and read firm files and amendments anew: they may be what was saved."""
        reviewing.forget()
        self.review(asked.text_document.uri)

    async def closed(self, asked: lsp.DidCloseTextDocumentParams) -> None:
        """Forget a design that is no longer open."""
        uri = asked.text_document.uri
        self.known.pop(uri, None)
        self.worked.pop(uri, None)
        self.server.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri, []))

    def review(self, uri: str) -> None:
        """Review the text of a document, and send what is to be shown."""
        document = self.server.workspace.get_text_document(uri)
        lines = document.source.split("\n")
        known = self.known[uri] = as_typed.reviewed(self.path(uri), document.source)
        if known.bench is not None:
            self.worked[uri] = known
        shown = [_diagnostic(one, lines) for one in known.remarks]
        self.server.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri, shown, document.version))

    @staticmethod
    def path(uri: str) -> Path:
        """The file of a document; one that was never saved stands in the current folder."""
        return Path(uris.to_fs_path(uri) or "untitled.slab.yaml")

    def of(self, uri: str) -> Reviewed:
        """The review of the text as it stands now."""
        text = self.server.workspace.get_text_document(uri).source
        known = self.known.get(uri)
        if known is None or known.text != text:
            known = self.known[uri] = as_typed.reviewed(self.path(uri), text)
        return known

    async def hover(self, asked: lsp.HoverParams) -> lsp.Hover | None:
        """The page of a rule."""
        known = self.of(asked.text_document.uri)
        column = _column(known.text.split("\n"), asked.position)
        page = as_typed.page_of(known, asked.position.line + 1, column)
        return lsp.Hover(lsp.MarkupContent(lsp.MarkupKind.Markdown, page)) if page else None

    async def quick_fixes(self, asked: lsp.CodeActionParams) -> list[lsp.CodeAction]:
        """The remedies that hold for the comments on some lines."""
        uri = asked.text_document.uri
        known = self.of(uri)
        found = as_typed.fixes(known, asked.range.start.line + 1, asked.range.end.line + 1)
        return [
            lsp.CodeAction(
                f"{fix.says[:1].upper()}{fix.says[1:]}",
                kind=lsp.CodeActionKind.QuickFix,
                diagnostics=[one for one in asked.context.diagnostics if one.code == fix.rule],
                edit=lsp.WorkspaceEdit(changes={uri: [_edit(known.text, fix.text)]}),
            )
            for fix in found
        ]

    async def completions(self, asked: lsp.CompletionParams) -> list[lsp.CompletionItem]:
        """What may stand where the cursor is."""
        uri = asked.text_document.uri
        text = self.server.workspace.get_text_document(uri).source
        known = self.worked.get(uri, Reviewed(text, ()))
        column = _column(text.split("\n"), asked.position)
        found = as_typed.completions(known, text, asked.position.line + 1, column)
        return [
            lsp.CompletionItem(name, detail=about, kind=lsp.CompletionItemKind.Value, sort_text=f"{number:05}")
            for number, (name, about) in enumerate(found)
        ]


def _diagnostic(one: Remark, lines: list[str]) -> lsp.Diagnostic:
    number = min(one.line, len(lines)) - 1
    text = lines[number].rstrip("\r")
    start = min(one.column - 1, len(text))
    end = max(len(text.rstrip()), start)
    return lsp.Diagnostic(
        lsp.Range(lsp.Position(number, _units(text[:start])), lsp.Position(number, _units(text[:end]))),
        one.says,
        severity=_SEVERITIES[one.weight],
        code=one.rule or None,
        source="slabwright",
    )


def _units(text: str) -> int:
    """The length of a text as the protocol counts it: in UTF-16 units."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def _column(lines: list[str], at: lsp.Position) -> int:
    """The column, from 1 in letters, of a position in UTF-16 units."""
    text = lines[at.line] if at.line < len(lines) else ""
    before = text.encode("utf-16-le", "surrogatepass")[: 2 * at.character]
    return len(before.decode("utf-16-le", "replace")) + 1


def _edit(before: str, after: str) -> lsp.TextEdit:
    """What differs, from the first letter to the last, as one edit."""
    most = min(len(before), len(after))
    first = next((at for at in range(most) if before[at] != after[at]), most)
    last = next((at for at in range(most - first) if before[-1 - at] != after[-1 - at]), most - first)
    return lsp.TextEdit(
        lsp.Range(_position(before, first), _position(before, len(before) - last)), after[first : len(after) - last]
    )


def _position(text: str, at: int) -> lsp.Position:
    """Where a letter of a text stands."""
    return lsp.Position(text.count("\n", 0, at), _units(text[text.rfind("\n", 0, at) + 1 : at]))
