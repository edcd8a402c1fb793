"""The engine that editors run TextMate grammars with says the same of every piece as our small reader.

vscode-textmate and vscode-oniguruma (both MIT) are npm packages: `npm install vscode-textmate vscode-oniguruma` in a folder, and the variable
HIDELEDGER_NODE_MODULES names its `node_modules`. Without them, or without node, there is nothing to compare with.
"""

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.unit.coloured import PAGE, TEXT
from tests.unit.test_editors_textmate import FILE
from tests.unit.textmate import Grammar, pieces

CHECKOUT = Path(__file__).resolve().parents[2]
MODULES = Path(os.environ.get("HIDELEDGER_NODE_MODULES") or CHECKOUT / "node_modules")
pytestmark = [
    pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed here"),
    pytest.mark.skipif(
        not (MODULES / "vscode-textmate").is_dir() or not (MODULES / "vscode-oniguruma").is_dir(),
        reason="HIDELEDGER_NODE_MODULES names no folder with vscode-textmate and vscode-oniguruma",
    ),
]

SCRIPT = r"""
const fs = require('fs'), path = require('path');
const [modules, file, page] = process.argv.slice(1);
const onig = require(path.join(modules, 'vscode-oniguruma'));
const textmate = require(path.join(modules, 'vscode-textmate'));
(async () => {
  await onig.loadWASM(fs.readFileSync(path.join(modules, 'vscode-oniguruma/release/onig.wasm')).buffer);
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: patterns => new onig.OnigScanner(patterns),
      createOnigString: text => new onig.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(fs.readFileSync(file, 'utf8'), file),
  });
  const grammar = await registry.loadGrammar('text.hides');
  let stack = textmate.INITIAL;
  const lines = [];
  for (const line of fs.readFileSync(page, 'utf8').replace(/\n$/, '').split('\n')) {
    const read = grammar.tokenizeLine(line, stack);
    stack = read.ruleStack;
    lines.push(read.tokens.map(one => [line.slice(one.startIndex, one.endIndex), one.scopes.slice(1).pop() || '']));
  }
  process.stdout.write(JSON.stringify(lines));
})();
"""


def engine(page: Path) -> list[list[tuple[str, str]]]:
    """What the engine says: for each line its coloured pieces."""
    done = subprocess.run(
        ["node", "-e", SCRIPT, str(MODULES.resolve()), str(FILE), str(page)],
        capture_output=True,
        check=False,
        encoding="utf-8",
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    read: list[list[tuple[str, str]]] = []
    for tokens in json.loads(done.stdout):
        line = "".join(text for text, _ in tokens)
        read.append(pieces(line, [scope for text, scope in tokens for _ in text]))
    return read


def by_us(text: str) -> list[list[tuple[str, str]]]:
    lines = text.removesuffix("\n").split("\n")
    return [pieces(line, scopes) for line, scopes in zip(lines, Grammar(FILE).scopes(text), strict=True)]


def test_the_engine_agrees_on_the_page_of_the_table(tmp_path: Path) -> None:
    page = tmp_path / "page.hides"
    page.write_text(TEXT, encoding="utf-8")
    said = engine(page)
    assert len(said) == len(PAGE)
    assert sum(len(line) for line in said) > 100
    assert said == by_us(TEXT)


@pytest.mark.parametrize("book", ["first-week", "harbour-road", "rough"])
def test_the_engine_agrees_on_the_sample_books(book: str) -> None:
    for page in sorted((CHECKOUT / "sample_ledgers" / book).glob("*.hides")):
        assert engine(page) == by_us(page.read_text(encoding="utf-8")), page.name
