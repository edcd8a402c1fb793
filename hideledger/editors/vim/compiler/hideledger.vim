" `:make` asks what needs a hand; what is named after it goes along (`:make ~/book`, `:make --all`).
if exists('b:current_compiler') && get(b:, 'current_compiler', '') ==# 'hideledger'
  finish
endif
let current_compiler = 'hideledger'

if exists(':CompilerSet') != 2
  command -nargs=* CompilerSet setlocal <args>
endif

CompilerSet makeprg=hideledger\ check\ --plain\ $*
" A column counts characters, so it is %v: a fraction or a degree sign before the place would put %c too far to the left.
" What hideledger says about the book as a whole is kept as a line without a place; a summary is no place to go to.
CompilerSet errorformat=%f:%l:%v:\ %m,%+Ghideledger:\ %m,%-G%.%#
