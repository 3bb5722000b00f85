-- Neovim with the tree-sitter grammar: it reads the parser and its queries, and a pattern has the captures that it should.
-- Called by tests/editors/run in the folder of the project, with $WALE_PARSER as the compiled parser and $WALE_RESULT as the
-- file for what went wrong.

local function run()
  local root = vim.fn.getcwd()
  vim.opt.runtimepath:prepend(root .. '/editors/vim')
  local add = vim.treesitter.language and vim.treesitter.language.add
  if add then
    add('wale', { path = vim.env.WALE_PARSER })
  else
    vim.treesitter.require_language('wale', vim.env.WALE_PARSER)
  end
  vim.cmd('edit ' .. vim.fn.fnameescape(root .. '/examples/lantern-hat.wale'))
  local tree = vim.treesitter.get_parser(0, 'wale'):parse()[1]
  assert(not tree:root():has_error(), 'the example is parsed')

  local get = vim.treesitter.query.get or vim.treesitter.query.get_query
  local captures = {}
  local query = get('wale', 'highlights')
  assert(query, 'the queries for colours are found')
  for id, node in query:iter_captures(tree:root(), 0, 0, -1) do
    local line, from, _, to = node:range()
    local words = vim.api.nvim_buf_get_lines(0, line, line + 1, true)[1]:sub(from + 1, to)
    captures[words] = captures[words] or {}
    captures[words][query.captures[id]] = true
  end
  for words, capture in pairs({
    piece = 'keyword.type', rib = 'function', ember = 'type', front = 'type.builtin', knit = 'keyword', ['"Hat"'] = 'markup.heading',
    L40 = 'constant', tubular = 'function.builtin', expect = 'keyword.exception',
  }) do
    assert(captures[words] and captures[words][capture], words .. ': ' .. vim.inspect(captures[words]))
  end
  for _, name in ipairs({ 'folds', 'indents', 'locals' }) do
    assert(get('wale', name), name)
  end
end

local good, trouble = xpcall(run, debug.traceback)
vim.fn.writefile(good and {} or vim.split(tostring(trouble), '\n'), vim.env.WALE_RESULT)
vim.cmd(good and 'qall!' or 'cquit!')
