// Starts the language server of wale for the patterns that are open, and hands what it says to the editor.
'use strict';

const vscode = require('vscode');
const { LanguageClient, TransportKind } = require('vscode-languageclient/node');

/** @type {LanguageClient | undefined} */
let client;

/** The program as the settings name it. */
function program() {
  return vscode.workspace.getConfiguration('wale').get('path', 'wale').trim() || 'wale';
}

/** Starts the language server; where that fails, says why and what to do, and leaves the colours as they are. */
async function start() {
  const command = program();
  const run = { command, args: ['serve'], transport: TransportKind.stdio };
  client = new LanguageClient('wale', 'wale', { run, debug: run }, {
    documentSelector: [{ language: 'wale' }],
    synchronize: { fileEvents: vscode.workspace.createFileSystemWatcher('**/*.wale') },
  });
  try {
    await client.start();
  } catch (error) {
    client = undefined;
    const settings = 'Open the setting';
    const reason = error instanceof Error ? error.message : String(error);
    const chosen = await vscode.window.showWarningMessage(
      `The program \`${command}\` could not be started (${reason}). Patterns have colours all the same. ` +
        'For findings, install wale, or write its whole path into the setting "wale.path".',
      settings,
    );
    if (chosen === settings) {
      await vscode.commands.executeCommand('workbench.action.openSettings', 'wale.path');
    }
  }
}

async function stop() {
  const running = client;
  client = undefined;
  if (running) {
    await running.stop().catch(() => undefined);
  }
}

// One start or stop after the other, however quickly they are asked for.
let last = Promise.resolve();
function restart() {
  last = last.then(stop).then(start);
  return last;
}

/** @param {vscode.ExtensionContext} context */
function activate(context) {
  context.subscriptions.push(
    vscode.commands.registerCommand('wale.restart', restart),
    vscode.workspace.onDidChangeConfiguration((change) => {
      if (change.affectsConfiguration('wale.path')) {
        restart();
      }
    }),
  );
  // Not waited for: the editor goes on while the server starts.
  restart();
}

function deactivate() {
  return stop();
}

module.exports = { activate, deactivate };
