-- The language server of wale for Neovim, from 0.7 on. In init.lua:
--
--   require('wale').setup()
--
-- or, where `wale` is not on the path of programs,
--
--   require('wale').setup({ cmd = { '/home/me/.cargo/bin/wale', 'serve' } })
--
-- Everything else in the table is handed to the client as it is (`on_attach`, `capabilities`, `settings`).

local M = {}

-- The folder that a pattern belongs to: that of the whole collection if there is one, else its own.
local function root_of(path)
  local folder = vim.fn.fnamemodify(path, ':p:h')
  local marker = vim.fn.finddir('.git', vim.fn.escape(folder, ' ,;') .. ';')
  if marker ~= '' then
    return vim.fn.fnamemodify(marker, ':p:h:h')
  end
  return folder
end

-- Neovim 0.7: one client for each folder, which each pattern of the folder is attached to.
local clients = {}
local function attach_by_hand(config, buffer)
  local root = config.root_dir
  if not clients[root] then
    local given = config.on_exit
    config.on_exit = function(...)
      clients[root] = nil
      if given then
        given(...)
      end
    end
    clients[root] = vim.lsp.start_client(config)
  end
  if clients[root] then
    vim.lsp.buf_attach_client(buffer, clients[root])
  end
end

function M.setup(options)
  options = vim.tbl_extend('force', { name = 'wale', cmd = { 'wale', 'serve' } }, options or {})

  -- Neovim 0.11 and later keep settings of servers themselves.
  if vim.lsp.config and vim.lsp.enable then
    vim.lsp.config('wale', vim.tbl_extend('keep', options, { filetypes = { 'wale' }, root_markers = { '.git' } }))
    vim.lsp.enable('wale')
    return
  end

  local function attach(buffer)
    local path = vim.api.nvim_buf_get_name(buffer)
    if path == '' or vim.api.nvim_buf_get_option(buffer, 'buftype') ~= '' then
      return
    end
    if vim.fn.executable(options.cmd[1]) == 0 then
      vim.notify_once('wale: the program `' .. options.cmd[1] .. '` is not found. Install it, or give its path to setup().', vim.log.levels.WARN)
      return
    end
    local config = vim.tbl_extend('keep', options, { root_dir = root_of(path) })
    if vim.lsp.start then
      vim.lsp.start(config, { bufnr = buffer })
    else
      attach_by_hand(config, buffer)
    end
  end

  vim.api.nvim_create_autocmd('FileType', {
    group = vim.api.nvim_create_augroup('wale', { clear = true }),
    pattern = 'wale',
    callback = function(event)
      attach(event.buf)
    end,
  })
  -- What was opened before this ran.
  for _, buffer in ipairs(vim.api.nvim_list_bufs()) do
    if vim.api.nvim_buf_is_loaded(buffer) and vim.api.nvim_buf_get_option(buffer, 'filetype') == 'wale' then
      attach(buffer)
    end
  end
end

return M
