//! A real editor, where one is installed: Neovim, a general-purpose editor with a client of its own for the protocol.

use super::client::Place;
use crate::common;
use serde_json::Value;
use std::process::{Command, Stdio};

/// What the editor is told to do: open a pattern, wait for findings, ask, rename, mend, and say what came of it.
const SCRIPT: &str = r#"
local out = {}
local function main()
    vim.cmd('edit ' .. vim.fn.fnameescape(vim.env.WALE_FILE))
    local buffer = vim.api.nvim_get_current_buf()
    local id = vim.lsp.start_client({ name = 'wale', cmd = { vim.env.WALE_BIN, 'serve' }, root_dir = vim.env.WALE_FOLDER })
    vim.lsp.buf_attach_client(buffer, id)
    local client = vim.lsp.get_client_by_id(id)
    local function wait(what, is)
        if not vim.wait(30000, is, 20) then error(what .. ' does not come') end
    end
    wait('the greeting', function() return client.initialized and vim.lsp.buf_is_attached(buffer, id) end)
    wait('the findings', function() return #vim.diagnostic.get(buffer) > 0 end)
    local one = vim.diagnostic.get(buffer)[1]
    out.found = { code = one.code, line = one.lnum, column = one.col, source = one.source }
    out.encoding = client.offset_encoding
    local function ask(method, params)
        local answer, why = client.request_sync(method, params, 30000, buffer)
        if not answer then error(method .. ': ' .. tostring(why)) end
        if answer.err then error(method .. ': ' .. answer.err.message) end
        return answer.result
    end
    local document = vim.lsp.util.make_text_document_params(buffer)
    -- Mended: the action that is preferred.
    local range = { start = { line = one.lnum, character = one.col }, ['end'] = { line = one.lnum, character = one.col } }
    local actions = ask('textDocument/codeAction', { textDocument = document, range = range, context = { diagnostics = {} } })
    for _, action in ipairs(actions) do
        if action.isPreferred then vim.lsp.util.apply_workspace_edit(action.edit, client.offset_encoding) break end
    end
    wait('a clean pattern', function() return #vim.diagnostic.get(buffer) == 0 end)
    -- Typed by hand, letter by letter, with letters outside the basic plane; and taken back.
    vim.api.nvim_buf_set_lines(buffer, 0, 0, false, { '# 𝄞𝄞 typed' })
    vim.api.nvim_buf_set_text(buffer, 0, 10, 0, 10, { ' 𝄞', 'nonsense 𝄞' })
    wait('the nonsense', function() return #vim.diagnostic.get(buffer) == 1 end)
    out.nonsense = vim.diagnostic.get(buffer)[1].lnum
    vim.api.nvim_buf_set_lines(buffer, 0, 2, false, {})
    wait('a clean pattern again', function() return #vim.diagnostic.get(buffer) == 0 end)
    -- Asked and renamed.
    local line = vim.fn.search('work half-cardigan')
    local place = { textDocument = document, position = { line = line - 1, character = 14 } }
    out.hover = ask('textDocument/hover', place).contents.value
    place.newName = 'warm-rib'
    vim.lsp.util.apply_workspace_edit(ask('textDocument/rename', place), client.offset_encoding)
    wait('a clean pattern with its new name', function() return #vim.diagnostic.get(buffer) == 0 end)
    out.text = table.concat(vim.api.nvim_buf_get_lines(buffer, 0, -1, false), '\n') .. '\n'
    client.stop()
    wait('the end', function() return client.is_stopped() end)
end
local good, why = pcall(main)
if not good then out.why = tostring(why) end
local file = io.open(vim.env.WALE_OUT, 'w')
file:write(vim.json.encode(out))
file:close()
vim.cmd('qall!')
"#;

#[test]
fn an_editor_that_was_not_made_for_it_works_with_it() {
    let there = Command::new("nvim").arg("--version").stdout(Stdio::null()).stderr(Stdio::null()).status();
    if !there.is_ok_and(|status| status.success()) {
        println!("not tried: there is no `nvim` here");
        return;
    }
    let place = Place::new("editor");
    let text = common::example("breakwater.wale");
    place.file("machines/bollard-room.wale", &common::example("machines/bollard-room.wale"));
    place.file("scarf.wale", &text.replace("row both knit, loosened", "row both knitt, loosened"));
    place.file("do.lua", SCRIPT);
    let mut editor = Command::new("nvim")
        .args(["--headless", "--clean", "-n", "-c", "luafile do.lua"])
        .current_dir(&place.0)
        .env("WALE_BIN", env!("CARGO_BIN_EXE_wale"))
        .env("WALE_FILE", place.path("scarf.wale"))
        .env("WALE_FOLDER", &place.0)
        .env("WALE_OUT", place.path("out.json"))
        .env("XDG_STATE_HOME", place.path("state"))
        .env("XDG_CACHE_HOME", place.path("cache"))
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let begun = std::time::Instant::now();
    while editor.try_wait().unwrap().is_none() {
        if begun.elapsed() > std::time::Duration::from_secs(180) {
            editor.kill().unwrap();
            panic!("the editor does not end");
        }
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    let out: Value = serde_json::from_str(&std::fs::read_to_string(place.0.join("out.json")).unwrap()).unwrap();
    if out["why"]
        .as_str()
        .is_some_and(|why| why.contains("vim.lsp.get_client_by_id") || why.contains("attempt to call"))
    {
        println!("not tried: this `nvim` is another one than the test was written for: {}", out["why"]);
        return;
    }
    assert_eq!(out.get("why"), None, "{out:#}");
    let line = text.lines().position(|line| line.contains("row both knit, loosened")).unwrap();
    assert_eq!(
        out["found"],
        serde_json::json!({ "code": "misspelt-word", "line": line, "column": 17, "source": "wale" })
    );
    assert_eq!(out["nonsense"], 1);
    assert!(out["hover"].as_str().unwrap().contains("After this line"), "{}", out["hover"]);
    // The stitch and its gauge keep one name.
    assert_eq!(out["text"], text.replace("half-cardigan", "warm-rib"));
}
