" Checks the pattern in the window: `:compiler wale`, then `:make`.
if exists('current_compiler')
  finish
endif
let current_compiler = 'wale'

if exists(':CompilerSet') != 2
  command -nargs=* CompilerSet setlocal <args>
endif

CompilerSet makeprg=wale\ check\ --format\ short\ %:S
" wale counts columns in characters, and so does %v where no tabs stand before them.
CompilerSet errorformat=%f:%l:%v:\ %trror:\ %m,%f:%l:%v:\ %tarning:\ %m,%-G%.%#
