" A page of a hideledger book: what Vim should know about its lines.
if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1

setlocal comments=:# commentstring=#\ %s
" One line is one doing: nothing is ever broken by itself.
setlocal formatoptions-=t formatoptions-=c formatoptions-=a formatoptions+=l
setlocal suffixesadd=.hides
let b:undo_ftplugin = 'setlocal comments< commentstring< formatoptions< suffixesadd<'

" :make reads the book over and :cnext goes from place to place.
compiler hideledger
let b:undo_ftplugin .= ' makeprg< errorformat< | unlet! b:current_compiler'
