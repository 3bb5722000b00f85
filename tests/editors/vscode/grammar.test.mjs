// The TextMate grammar, asked with the library that reads such grammars in editors.
import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const require = createRequire(join(root, 'editors/vscode/package.json'));
const { INITIAL, Registry, parseRawGrammar } = require('vscode-textmate');
const oniguruma = require('vscode-oniguruma');

const read = (name) => readFileSync(join(root, name), 'utf8');
await oniguruma.loadWASM(readFileSync(require.resolve('vscode-oniguruma/release/onig.wasm')));
const path = 'editors/vscode/syntaxes/wale.tmLanguage.json';
const registry = new Registry({
  onigLib: Promise.resolve({
    createOnigScanner: (sources) => new oniguruma.OnigScanner(sources),
    createOnigString: (text) => new oniguruma.OnigString(text),
  }),
  loadGrammar: async () => parseRawGrammar(read(path), path),
});
const grammar = await registry.loadGrammar('source.wale');

/** Every piece of a text: its line from 1, its words, and the scopes from the outermost on. */
function pieces(text) {
  let state = INITIAL;
  return text.split('\n').flatMap((line, at) => {
    const result = grammar.tokenizeLine(line, state);
    state = result.ruleStack;
    return result.tokens.map(({ startIndex, endIndex, scopes }) => ({
      line: at + 1, words: line.slice(startIndex, endIndex), scopes,
    }));
  });
}

const examples = ['examples', 'examples/machines'].flatMap((folder) =>
  readdirSync(join(root, folder)).filter((name) => name.endsWith('.wale')).map((name) => join(folder, name)));

test('everything in every example is in the language and has a scope of its own', () => {
  assert.ok(examples.length >= 10);
  for (const name of examples) {
    for (const { line, words, scopes } of pieces(read(name))) {
      assert.equal(scopes[0], 'source.wale', `${name}:${line}`);
      assert.ok(!words.trim() || scopes.length > 1, `${name}:${line}: \`${words}\` has no scope`);
    }
  }
});

test('what is in comments and in quotation marks is nothing else', () => {
  for (const name of examples) {
    for (const [at, line] of read(name).split('\n').entries()) {
      const found = pieces(line);
      const comment = line.replace(/"[^"]*"/g, (words) => '_'.repeat(words.length)).indexOf('#');
      let column = 0;
      for (const { words, scopes } of found) {
        const inComment = comment >= 0 && column >= comment;
        const inText = (line.slice(0, column).split('"').length - 1) % 2 === 1 && !inComment;
        column += words.length;
        assert.equal(scopes.some((scope) => scope.startsWith('comment.')), inComment, `${name}:${at + 1}: ${words}`);
        if (inText) {
          assert.ok(scopes.some((scope) => scope.startsWith('string.')), `${name}:${at + 1}: ${words}`);
        }
      }
    }
  }
});

test('every word of the language has its class, alone in its line', () => {
  // The words with their classes, from the part of the mode for Emacs that is written from the same list.
  const mode = read('editors/emacs/wale-mode.el');
  const list = mode.slice(mode.indexOf('(defconst wale--words'), mode.indexOf('"Every word of the language, by class."'));
  let words = 0;
  for (const [, name, inside] of list.matchAll(/\(([a-z]+)\n([^()]*)\)/g)) {
    for (const [, word] of inside.matchAll(/"([^"]+)"/g)) {
      words += 1;
      const [piece] = pieces(word);
      assert.equal(piece.words, word);
      assert.ok(piece.scopes.at(-1).endsWith(`.${name}.wale`), `${word}: ${piece.scopes.at(-1)} is not of ${name}`);
    }
  }
  assert.ok(words > 140, `${words} words`);
});

test('a word inside a name is no word of the language', () => {
  for (const name of ['row-over', 'råg', 'knitten', 'half-knit', 'knit-2', 'ärm-both']) {
    const found = pieces(`row front knit on ${name}`);
    assert.deepEqual([found.at(-1).words, found.at(-1).scopes.at(-1)], [name, 'variable.other.wale']);
  }
});

// The whole list of scopes that this grammar may use: the names that the manual of TextMate lists, and nothing made up.
test('scopes begin with names that colour themes know', () => {
  const known = /^(comment\.line|constant\.(language|numeric|other)|entity\.name\.(function|section|type)|keyword\.(control|operator|other)|punctuation\.(definition|section|separator)|storage\.type|string\.quoted\.double|support\.(function|type)|variable\.other)\b.*\.wale$/;
  for (const name of examples) {
    for (const { scopes } of pieces(read(name))) {
      for (const scope of scopes.slice(1)) {
        assert.match(scope, known);
      }
    }
  }
});

// Lines that begin with `# <--` or `#    ^^` say the scope of the words above them: the innermost one, or behind a dash one
// that must not be there.
test('places where a word alone does not say what it is', () => {
  const lines = read('tests/editors/vscode/scopes.wale').split('\n');
  let tried = 0;
  let above = -1;
  for (const [at, line] of lines.entries()) {
    const asked = line.match(/^#(?<blank> *)(?:(?<head><-+)|(?<marks>\^+)) (?<scope>\S+)(?: - (?<not>\S+))?$/);
    if (!asked) {
      above = at;
      continue;
    }
    const { blank, head, marks, scope, not } = asked.groups;
    const from = head ? 0 : blank.length + 1;
    const to = from + (head ? head.length - 1 : marks.length);
    const where = `scopes.wale:${at + 1}`;
    assert.ok(to <= lines[above].length, where);
    let column = 0;
    let covered = 0;
    for (const { words, scopes } of pieces(lines[above])) {
      const shared = Math.min(to, column + words.length) - Math.max(from, column);
      column += words.length;
      if (shared > 0) {
        covered += shared;
        assert.ok(scopes.includes(scope), `${where}: \`${words}\` is ${scopes.join(' ')}`);
        assert.ok(!not || !scopes.some((other) => other.startsWith(not)), `${where}: \`${words}\``);
      }
    }
    assert.equal(covered, to - from, where);
    tried += 1;
  }
  assert.ok(tried > 30, `${tried} places`);
});
