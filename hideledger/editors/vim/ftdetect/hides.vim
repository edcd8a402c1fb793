" The pages of a book end in .hides.
autocmd BufNewFile,BufRead *.hides setfiletype hides
