" Four blanks for each block.
if exists('b:did_indent')
  finish
endif
let b:did_indent = 1

setlocal autoindent nosmartindent nolisp
setlocal indentexpr=WaleIndent(v:lnum)
setlocal indentkeys=0},!^F,o,O
let b:undo_indent = 'setlocal autoindent< smartindent< lisp< indentexpr< indentkeys<'

if exists('*WaleIndent')
  finish
endif

" A line without what is in quotation marks and in a comment.
function s:Bare(line) abort
  return substitute(substitute(a:line, '"[^"]*"', '', 'g'), '["#].*$', '', '')
endfunction

function WaleIndent(lnum) abort
  let before = prevnonblank(a:lnum - 1)
  if before == 0
    return 0
  endif
  let line = s:Bare(getline(before))
  let opened = count(line, '{') - count(line, '}')
  " A brace that begins a line has taken its step back there.
  if line =~# '^\s*}'
    let opened += 1
  endif
  let indent = indent(before) + opened * shiftwidth()
  if getline(a:lnum) =~# '^\s*}'
    let indent -= shiftwidth()
  endif
  return max([indent, 0])
endfunction
