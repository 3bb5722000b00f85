" After the steps of the guide: the pattern of the guide is known, coloured and checked. Called by tests/editors/run, with
" $WALE_PATTERN as the pattern and $WALE_RESULT as the file for what went wrong.
function s:Look() abort
  execute 'edit ' . fnameescape($WALE_PATTERN)
  call assert_equal(['wale', 4], [&filetype, shiftwidth()])
  if exists('g:syntax_on') && !exists('b:ts_highlight')
    call assert_equal('waleDeclaration', synIDattr(synID(1, 1, 1), 'name'))
  endif
  silent make
  call assert_equal([8, 'knitt'], [line('.'), expand('<cword>')])
endfunction

try
  call s:Look()
catch
  call add(v:errors, v:exception . ' at ' . v:throwpoint)
endtry
call writefile(v:errors, $WALE_RESULT)
if empty(v:errors)
  qall!
endif
cquit!
