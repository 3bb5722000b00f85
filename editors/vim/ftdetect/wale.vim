autocmd BufNewFile,BufRead *.wale setfiletype wale
