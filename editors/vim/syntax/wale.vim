" Colours for patterns.
if exists('b:current_syntax')
  finish
endif

syntax case match
syntax iskeyword @,48-57,-,192-255

" Words: written by tests/editors.rs.
syntax keyword waleDeclaration chart fabric gauge let machine make pattern piece section sizes use yarn
syntax keyword waleStructure evenly follow for repeat shape times work
syntax keyword waleOperation arrange bind chain cross cut decrease drop free hold increase joining loops move new off
syntax keyword waleOperation onto open pass pick rack release reset row rows thread transfer tubular up wound zigzag
syntax keyword waleAction knit slip tuck
syntax keyword waleBed back bed beds both front
syntax keyword waleSide centre edge left right side
syntax keyword waleSelection all but each elsewhere empty every first leftmost loaded none rightmost
syntax keyword waleSetting between carriage counter emptied gaiting go hand inset loosened opposite racking size stay
syntax keyword waleSetting tightened
syntax keyword waleUnit Ne Nm cm denier dtex g kg length m mm needle needles number selection stitches tex worsted
syntax keyword waleProfile adjacent ball colour count fibre float half handle lever lone longest most picked pitch
syntax keyword waleProfile place plain relaxed second selectors slack step strands takes tucks unwashed wait washed
syntax keyword waleProfile widest
syntax keyword waleSpeech mark note remind
syntax keyword walePromise allow because closed expect tube
syntax keyword waleLink a and as at by from of on or over the to with
syntax match waleOperation /\<cast\>/
syntax match waleLink /\<in\>/
syntax match waleOperation /\<out\>/
syntax match waleDeclaration /\<stitch\>/
syntax match waleOperation /\<waste\>/
syntax match waleOperation /\<waste\s\+yarn\>/
syntax match waleSetting /\<stitch\s\+size\>/
syntax match waleSetting /\<stitch\s\+sizes\>/
syntax match waleOperation /\<out\s\+of\s\+work\>/
syntax match waleOperation /\<in\s\+work\>/
syntax match waleOperation /\<cast\s\+on\>/
highlight default link waleDeclaration Define
highlight default link waleStructure Repeat
highlight default link waleOperation Function
highlight default link waleAction Keyword
highlight default link waleBed Type
highlight default link waleSide Constant
highlight default link waleSelection Operator
highlight default link waleSetting Special
highlight default link waleUnit Type
highlight default link waleProfile Identifier
highlight default link waleSpeech SpecialComment
highlight default link walePromise Exception
" End of the words.

" Names stand behind the word that says what they are.
syntax match waleName /\%(\<\%(machine\|yarn\|gauge\|chart\|fabric\|let\|thread\)\s\+\)\@<=\k\+/
syntax match waleName /\%(^\s*\%(work\|follow\|stitch\)\s\+\%(sizes\=\>\)\@!\)\@<=\k\+/
syntax match waleRule /\%(^\s*allow\s\+\)\@<=\k\+/

" Behind a number some words are units that mean something else at the beginning of a line.
syntax match waleNumber /\<\d\+\%(\.\d\+\)\=\k\@!/ nextgroup=waleUnitBehind skipwhite
syntax match waleNumber /\<\d\+\%(\.\d\+\)\=\ze\a\+\>/ nextgroup=waleUnitBehind
syntax match waleOtherSizes /(\s*\d[^()]*)/ contains=waleNumber nextgroup=waleUnitBehind skipwhite
syntax match waleUnitBehind /\%(rows\=\|stitch\%(es\)\=\|needles\=\|in\|[cm]\=m\|k\=g\)\>/ contained
syntax match waleNeedle /\<[LR]\d\+\%(-[LR]\d\+\)\=\>/
syntax match waleNeedle /\<[LR]\d\+\s*(\@=/
syntax match waleNeedle /)\@<=-[LR]\d\+\>/
syntax match waleMark /\<[XO]\>/

syntax region waleText start=/"/ end=/"/ oneline contains=@Spell
syntax match waleComment /#.*$/ contains=waleTodo,@Spell
syntax keyword waleTodo TODO contained
syntax region waleBlock start=/{/ end=/}/ transparent fold

highlight default link waleName Identifier
highlight default link waleRule Identifier
highlight default link waleNumber Number
highlight default link waleUnitBehind Type
highlight default link waleNeedle Constant
highlight default link waleMark Constant
highlight default link waleText String
highlight default link waleComment Comment
highlight default link waleTodo Todo

let b:current_syntax = 'wale'
