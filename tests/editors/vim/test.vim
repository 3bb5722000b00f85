" Vim and Neovim with the files of editors/vim: colours at known places, every word in its class, indentation, and the list of
" findings that :make fills. Called by tests/editors/run, in the folder of the project, with $WALE_RESULT as the file for what
" went wrong. The program wale is on the path.
set nocompatible
let s:root = getcwd()
execute 'set runtimepath^=' . fnameescape(s:root . '/editors/vim')
filetype plugin indent on
syntax on
set shiftwidth=8 tabstop=8 noexpandtab

function s:Open(name) abort
  execute 'edit! ' . fnameescape(s:root . '/examples/' . a:name)
  call assert_equal('wale', &filetype, a:name)
endfunction

" The group of the letter at \zs, or behind what is found in the text, and what it is linked to.
function s:Expect(pattern, group, standard) abort
  call cursor(1, 1)
  let place = searchpos(a:pattern =~# '\\zs' ? a:pattern : a:pattern . '\zs', 'cW')
  call assert_true(place[0] > 0, a:pattern)
  let id = synID(place[0], place[1], 1)
  call assert_equal(a:group, synIDattr(id, 'name'), a:pattern)
  call assert_equal(a:standard, synIDattr(synIDtrans(id), 'name'), a:pattern)
endfunction

function s:Colours() abort
  call s:Open('foam-edging.wale')
  call s:Expect('^\zspattern', 'waleDeclaration', 'PreProc')
  call s:Expect('pattern "', 'waleText', 'Constant')
  call s:Expect('# Eyelets on ', 'waleComment', 'Comment')
  call s:Expect('^yarn ', 'waleName', 'Identifier')
  call s:Expect('    count ', 'waleNumber', 'Constant')
  call s:Expect('28/2 ', 'waleUnit', 'Type')
  call s:Expect('let holes = ', 'waleSelection', 'Statement')
  call s:Expect('every 4 over ', 'waleNeedle', 'Constant')
  call s:Expect('^stitch ', 'waleName', 'Identifier')
  call s:Expect('^stitch foam on ', 'waleBed', 'Type')
  call s:Expect('^    \zsrows 2', 'waleOperation', 'Identifier')
  call s:Expect('rows 2 front ', 'waleAction', 'Statement')
  call s:Expect('holes 1 ', 'waleSide', 'Constant')
  call s:Expect('^    \zsin work', 'waleOperation', 'Identifier')
  call s:Expect('    in \zswork', 'waleOperation', 'Identifier')
  call s:Expect('^    \zsstitch size', 'waleSetting', 'Special')
  call s:Expect('^    \zswork foam', 'waleStructure', 'Statement')
  call s:Expect('work foam 40 ', 'waleStructure', 'Statement')
  call s:Expect('    \zsexpect', 'walePromise', 'Statement')
  call s:Expect('expect 20 ', 'waleUnitBehind', 'Type')
  call s:Open('lantern-hat.wale')
  call s:Expect('28 stitches and 36 ', 'waleUnitBehind', 'Type')
  call s:Expect('rows \zsin 10', 'waleLink', 'waleLink')
  call s:Expect('front half \zseach', 'waleSelection', 'Statement')
  call s:Expect('brim = 6 (', 'waleNumber', 'Constant')
  call s:Expect('brim = 6 (8) ', 'waleUnitBehind', 'Type')
  call s:Expect('back L40 (48)', 'waleNeedle', 'Constant')
  call s:Expect('every 2 1 ', 'waleSide', 'Constant')
  call s:Expect('note "Cut the ', 'waleText', 'Constant')
endfunction

" Every word of the list, alone in a line, with its class.
function s:Words() abort
  let text = join(readfile(s:root . '/editors/emacs/wale-mode.el'), "\n")
  let list = matchstr(text, '(defconst wale--words\_.\{-}"Every word of the language, by class."')
  let classes = {}
  let start = 0
  while 1
    let [entry, start, end] = matchstrpos(list, '(\l\+\n\_[^()]*)', start)
    if start < 0
      break
    endif
    let class = matchstr(entry, '\l\+')
    for word in split(substitute(entry, '^(\l\+', '', ''), '[^A-Za-z]\+')
      let classes[word] = 'wale' . toupper(class[0]) . class[1:]
    endfor
    let start = end
  endwhile
  call assert_true(len(classes) > 140, len(classes) . ' words')
  enew!
  setfiletype wale
  call setline(1, sort(keys(classes)))
  for line in range(1, line('$'))
    let word = getline(line)
    call assert_equal(classes[word], synIDattr(synID(line, 1, 1), 'name'), word)
  endfor
  " Inside a name a word is none.
  call setline(1, ['row-over', 'knitten', 'half-knit', 'both-2'])
  for line in range(1, 4)
    call assert_equal('', synIDattr(synID(line, 3, 1), 'name'), getline(line))
  endfor
endfunction

function s:Indentation() abort
  for path in glob(s:root . '/examples/*.wale', 0, 1)
    execute 'edit! ' . fnameescape(path)
    let before = getline(1, '$')
    silent %substitute/^\s\+//e
    call assert_notequal(before, getline(1, '$'), path)
    silent normal! gg=G
    call assert_equal(before, getline(1, '$'), path)
  endfor
  call s:Open('foam-edging.wale')
  call assert_equal([4, 1, '# %s'], [shiftwidth(), &expandtab, &commentstring])
  " A new line in a block, and the brace that closes it.
  call cursor(search('^stitch'), 1)
  execute "normal! orepeat 2 times {\<CR>row front knit\<CR>}"
  let at = search('^stitch')
  call assert_equal(['    repeat 2 times {', '        row front knit', '    }'], getline(at + 1, at + 3))
endfunction

" A pattern with a mistake, checked with :make; the list has the place and the words.
function s:Findings() abort
  let folder = tempname()
  call mkdir(folder)
  let path = folder . '/a pattern.wale'
  let text = ['machine club { needles 74 each side }', 'yarn ålgrön {}', 'piece "Scarf" {',
        \ '    in work front L3-R3', '    thread ålgrön', '    cast on wound front',
        \ '    row front knit on "å", knitt', '    row front knit', '    transfer front to back',
        \ '    bind off front', '}']
  call writefile(text, path)
  execute 'edit! ' . fnameescape(path)
  silent make!
  let list = filter(getqflist(), 'v:val.valid')
  let told = systemlist('wale check --format short ' . shellescape(path))
  call assert_true(len(list) > 1, string(list))
  call assert_equal(len(told), len(list), string(told))
  for at in range(len(list))
    let expected = matchlist(told[at], ':\(\d\+\):\(\d\+\): \(.\).\{-}: \(.*\)$')
    let found = list[at]
    call assert_equal(expected[1:4], [string(found.lnum), string(found.col), found.type, found.text], told[at])
    call assert_equal(bufnr('%'), found.bufnr)
  endfor
  " The first one is the misspelt word, which stands behind a letter of two bytes.
  cfirst
  call assert_equal([7, 'knitt'], [line('.'), expand('<cword>')])
  " With nothing to mend the list is empty.
  call s:Open('foam-edging.wale')
  silent make!
  call assert_equal([], filter(getqflist(), 'v:val.valid'))
endfunction

for s:part in ['Colours', 'Words', 'Indentation', 'Findings']
  try
    call call('s:' . s:part, [])
  catch
    call add(v:errors, s:part . ': ' . v:exception . ' at ' . v:throwpoint)
  endtry
endfor
call writefile(v:errors, $WALE_RESULT)
if empty(v:errors)
  qall!
endif
cquit!
