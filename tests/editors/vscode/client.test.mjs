// The extension as it starts the server. The editor itself is stood in for; that the real one has everything that is called
// here is checked against its types when the extension is built.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import Module, { createRequire } from 'node:module';
import { join } from 'node:path';
import { beforeEach, test } from 'node:test';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const require = createRequire(join(root, 'editors/vscode/package.json'));

const settings = { path: 'wale' };
let started, stopped, warnings, handlers, fails;

class LanguageClient {
  constructor(id, name, server, client) {
    Object.assign(this, { id, name, server, client });
  }
  async start() {
    if (fails) {
      throw new Error('no such program');
    }
    started.push(this);
  }
  async stop() {
    stopped.push(this);
  }
}
const vscode = {
  workspace: {
    getConfiguration: (section) => (assert.equal(section, 'wale'), { get: (name) => settings[name] }),
    createFileSystemWatcher: (glob) => ({ glob }),
    onDidChangeConfiguration: (handler) => ((handlers.configuration = handler), { dispose() {} }),
  },
  commands: {
    registerCommand: (name, handler) => ((handlers[name] = handler), { dispose() {} }),
    executeCommand: async () => undefined,
  },
  window: { showWarningMessage: async (words) => (warnings.push(words), undefined) },
};
const stand = { vscode, 'vscode-languageclient/node': { LanguageClient, TransportKind: { stdio: 0 } } };
const load = Module._load;
Module._load = (name, ...rest) => stand[name] ?? load(name, ...rest);
const extension = require(join(root, 'editors/vscode/extension.js'));
const settle = () => new Promise((done) => setImmediate(done));

beforeEach(async () => {
  [started, stopped, warnings, handlers, fails, settings.path] = [[], [], [], {}, false, 'wale'];
  extension.activate({ subscriptions: [] });
  await settle();
});

test('the server is started for patterns, with the language that the manifest names', async () => {
  const manifest = JSON.parse(readFileSync(join(root, 'editors/vscode/package.json'), 'utf8'));
  assert.equal(started.length, 1);
  const { server, client } = started[0];
  assert.deepEqual([server.run.command, server.run.args, server.run.transport], ['wale', ['serve'], 0]);
  assert.deepEqual(client.documentSelector, [{ language: manifest.contributes.languages[0].id }]);
  await extension.deactivate();
  assert.deepEqual(stopped, started);
});

test('a new path in the settings starts the server anew', async () => {
  settings.path = ' /opt/wale ';
  handlers.configuration({ affectsConfiguration: (name) => name === 'wale.path' });
  await settle();
  assert.equal(stopped.length, 1);
  assert.equal(started[1].server.run.command, '/opt/wale');
  handlers.configuration({ affectsConfiguration: () => false });
  await settle();
  assert.equal(started.length, 2);
  await extension.deactivate();
});

test('a program that cannot be started is said, and can be tried again', async () => {
  fails = true;
  await handlers['wale.restart']();
  assert.equal(warnings.length, 1);
  assert.match(warnings[0], /`wale`.*no such program.*wale\.path/s);
  fails = false;
  await handlers['wale.restart']();
  assert.equal(started.length, 2);
  await extension.deactivate();
});
