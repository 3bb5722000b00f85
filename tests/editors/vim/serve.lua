-- Neovim and `wale serve`: a pattern with a mistake is opened, the finding stands at its line, a fix is applied, and the finding
-- is gone. Called by tests/editors/run in the folder of the project, with $WALE_RESULT as the file for what went wrong. The
-- program wale is on the path.

local function wait_for(what, found)
  assert(vim.wait(20000, found, 20), what .. ': nothing came in 20 seconds')
end

local function expect(what, expected, found)
  assert(vim.deep_equal(expected, found), what .. ': expected ' .. vim.inspect(expected) .. ', found ' .. vim.inspect(found))
end

local function clients()
  return vim.tbl_values((vim.lsp.get_clients or vim.lsp.get_active_clients)({ bufnr = 0 }))
end

local lines = {
  'machine club { needles 88 each side }',
  'yarn ålgrön {}',
  'piece "Scarf" {',
  '    in work front L3-R3',
  '    thread ålgrön',
  '    cast on wound front',
  '    row front knitt',
  '    bind off front',
  '}',
}

local function run()
  vim.opt.runtimepath:prepend(vim.fn.getcwd() .. '/editors/vim')
  vim.cmd('filetype plugin on')
  require('wale').setup()

  local folder = vim.fn.tempname()
  vim.fn.mkdir(folder, 'p')
  vim.fn.writefile(lines, folder .. '/scarf.wale')
  vim.cmd('edit ' .. vim.fn.fnameescape(folder .. '/scarf.wale'))
  expect('the type of the file', 'wale', vim.bo.filetype)

  wait_for('the server', function()
    local client = clients()[1]
    return client and client.initialized ~= false and next(client.server_capabilities or {}) ~= nil
  end)
  expect('how many servers there are', 1, #clients())
  wait_for('the finding', function()
    return #vim.diagnostic.get(0) > 0
  end)
  local found = vim.diagnostic.get(0)
  expect('how many findings there are', 1, #found)
  local finding = found[1]
  expect('its line and its column', { 6, 14 }, { finding.lnum, finding.col })
  expect('how bad it is', vim.diagnostic.severity.ERROR, finding.severity)
  assert(finding.message:find('knitt', 1, true), finding.message)

  -- The fixes for this finding, as an editor asks for them.
  local told = finding.user_data and finding.user_data.lsp or {}
  local range = {
    start = { line = finding.lnum, character = finding.col },
    ['end'] = { line = finding.end_lnum, character = finding.end_col },
  }
  local asked = {
    textDocument = { uri = vim.uri_from_bufnr(0) },
    range = range,
    context = {
      diagnostics = {
        {
          range = range,
          message = finding.message,
          severity = finding.severity,
          source = finding.source,
          code = told.code or finding.code,
          data = told.data,
        },
      },
    },
  }
  local answers = vim.lsp.buf_request_sync(0, 'textDocument/codeAction', asked, 20000)
  local fix
  for _, answer in pairs(answers or {}) do
    assert(not answer.error, vim.inspect(answer.error))
    for _, action in ipairs(answer.result or {}) do
      if not fix and (action.kind or ''):find('^quickfix') then
        fix = action
      end
    end
  end
  assert(fix, 'no fix is offered: ' .. vim.inspect(answers))
  if not fix.edit then
    for _, answer in pairs(vim.lsp.buf_request_sync(0, 'codeAction/resolve', fix, 20000) or {}) do
      fix = answer.result or fix
    end
  end
  assert(fix.edit, 'the fix changes something: ' .. vim.inspect(fix))
  vim.lsp.util.apply_workspace_edit(fix.edit, clients()[1].offset_encoding)
  expect('the line with its fix', '    row front knit', vim.api.nvim_buf_get_lines(0, 6, 7, true)[1])
  expect('how many lines there are', #lines, vim.api.nvim_buf_line_count(0))
  wait_for('no finding', function()
    return #vim.diagnostic.get(0) == 0
  end)

  -- A second pattern of the same folder has the same server.
  vim.cmd('write')
  vim.fn.writefile(lines, folder .. '/hat.wale')
  vim.cmd('edit ' .. vim.fn.fnameescape(folder .. '/hat.wale'))
  wait_for('the server for a second pattern', function()
    return #clients() == 1
  end)
  wait_for('the finding of the second pattern', function()
    return #vim.diagnostic.get(0) == 1
  end)
  expect('how many servers run', 1, #vim.tbl_values((vim.lsp.get_clients or vim.lsp.get_active_clients)()))
end

local good, trouble = xpcall(run, debug.traceback)
vim.fn.writefile(good and {} or vim.split(tostring(trouble), '\n'), vim.env.WALE_RESULT)
vim.cmd(good and 'qall!' or 'cquit!')
