// The configuration of the language: words, and lines that indent.
import assert from 'node:assert/strict';
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const read = (name) => readFileSync(join(root, name), 'utf8');
const configuration = JSON.parse(read('editors/vscode/language-configuration.json'));

test('a name with a dash is one word', () => {
  const { pattern, flags } = configuration.wordPattern;
  const words = 'work half-cardigan for råg-2 rows'.match(new RegExp(pattern, `${flags}g`));
  assert.deepEqual(words, ['work', 'half-cardigan', 'for', 'råg-2', 'rows']);
});

test('every example is indented as its rules say', () => {
  const increase = new RegExp(configuration.indentationRules.increaseIndentPattern);
  const decrease = new RegExp(configuration.indentationRules.decreaseIndentPattern);
  const names = readdirSync(join(root, 'examples')).filter((name) => name.endsWith('.wale'));
  assert.ok(names.length >= 10);
  for (const name of names) {
    let depth = 0;
    for (const [at, line] of read(join('examples', name)).split('\n').entries()) {
      if (!line.trim()) {
        continue;
      }
      depth -= decrease.test(line) ? 1 : 0;
      assert.equal(line.length - line.trimStart().length, 4 * depth, `${name}:${at + 1}`);
      depth += increase.test(line) ? 1 : 0;
    }
    assert.equal(depth, 0, name);
  }
});

test('the pattern for indentation takes its time in proportion to the line', () => {
  const increase = new RegExp(configuration.indentationRules.increaseIndentPattern);
  const start = performance.now();
  for (const line of ['"'.repeat(20001), `note "${'x'.repeat(20000)}`, '{'.repeat(20000), '"a"'.repeat(7000) + '#']) {
    increase.test(line);
  }
  assert.ok(performance.now() - start < 2000);
});
