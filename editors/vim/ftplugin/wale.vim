" Settings for patterns.
if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal comments=:#
setlocal commentstring=#\ %s
setlocal formatoptions-=t formatoptions+=croql
setlocal expandtab shiftwidth=4 softtabstop=4
" A dash is part of a word: half-cardigan is one name.
setlocal iskeyword+=-
" `use "machines/bollard-room.wale"`: go to that file with gf.
setlocal include=^\\s*use\\s
setlocal suffixesadd=.wale
let b:match_words = '{:}'
let b:browsefilter = "Patterns (*.wale)\t*.wale\nAll files (*.*)\t*.*\n"

" :make checks the pattern, and the findings are in the quickfix list.
if !exists('current_compiler')
  compiler wale
endif

let b:undo_ftplugin = 'setlocal comments< commentstring< formatoptions< expandtab< shiftwidth< softtabstop< iskeyword<'
      \ . ' include< suffixesadd< makeprg< errorformat< | unlet! b:match_words b:browsefilter b:current_compiler'
