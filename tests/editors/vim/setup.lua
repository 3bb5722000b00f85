-- What the set-up does in versions of Neovim that keep settings of servers themselves (0.11 and later) or start one client for
-- a folder by themselves (0.8 to 0.10). Their functions are stood in for, so that this runs in any version. Called by
-- tests/editors/run in the folder of the project, with $WALE_RESULT as the file for what went wrong.

local function expect(what, expected, found)
  assert(vim.deep_equal(expected, found), what .. ': expected ' .. vim.inspect(expected) .. ', found ' .. vim.inspect(found))
end

local function run()
  vim.opt.runtimepath:prepend(vim.fn.getcwd() .. '/editors/vim')
  vim.cmd('filetype plugin on')
  local lsp = vim.lsp
  local wale = require('wale')

  local kept, enabled = {}, {}
  vim.lsp = setmetatable({
    config = function(name, config) kept[name] = config end,
    enable = function(name) table.insert(enabled, name) end,
  }, { __index = lsp })
  wale.setup({ cmd = { '/opt/wale', 'serve' } })
  expect('what is enabled', { 'wale' }, enabled)
  expect('the command', { '/opt/wale', 'serve' }, kept.wale.cmd)
  expect('the types of files', { 'wale' }, kept.wale.filetypes)

  local started = {}
  vim.lsp = setmetatable({
    start = function(config, options) table.insert(started, { config = config, buffer = options.bufnr }) end,
  }, { __index = function(_, name) return name ~= 'config' and name ~= 'enable' and lsp[name] or nil end })
  wale.setup()
  local folder = vim.fn.tempname()
  vim.fn.mkdir(folder .. '/.git', 'p')
  vim.fn.mkdir(folder .. '/hats', 'p')
  vim.fn.writefile({ 'pattern "Hat"' }, folder .. '/hats/hat.wale')
  vim.cmd('edit ' .. vim.fn.fnameescape(folder .. '/hats/hat.wale'))
  expect('how many are started', 1, #started)
  expect('the buffer', vim.api.nvim_get_current_buf(), started[1].buffer)
  expect('the command', { 'wale', 'serve' }, started[1].config.cmd)
  expect('the folder', vim.fn.resolve(folder), vim.fn.resolve(started[1].config.root_dir))

  -- A program that is not there is said once, and nothing else happens.
  local said = {}
  vim.notify_once = function(words) table.insert(said, words) end
  wale.setup({ cmd = { 'no-such-program-of-that-name', 'serve' } })
  expect('how many are started without a program', 1, #started)
  assert(#said == 1 and said[1]:find('no-such-program-of-that-name', 1, true), vim.inspect(said))
  vim.lsp = lsp
end

local good, trouble = xpcall(run, debug.traceback)
vim.fn.writefile(good and {} or vim.split(tostring(trouble), '\n'), vim.env.WALE_RESULT)
vim.cmd(good and 'qall!' or 'cquit!')
