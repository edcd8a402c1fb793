" A page of a hideledger book. The format is told in grammar/README.md; a test holds the words here to the grammar's own.
scriptencoding utf-8
if exists('b:current_syntax')
  finish
endif

syntax case ignore
" A test of whole words must not hang on what the reader's own 'iskeyword' is.
syntax iskeyword @,48-57,_,192-255

" ----- pieces of patterns ------------------------------------------------------------------------------------------------

" the no-break blanks of a phone: Vim's own \s and skipwhite know only blanks and tabs
let s:nobreak = '[\u00a0\u202f]'
let s:margin = '^[ \t\u00a0\u202f]*\zs'
let s:months = '%(jan%(uary)?|feb%(ruary)?|mar%(ch)?|apr%(il)?|may|june?|july?|aug%(ust)?|sept?%(ember)?|oct%(ober)?|nov%(ember)?|dec%(ember)?)\.?'
let s:date = '%([0-9]{4}[-/][0-9]{1,2}[-/][0-9]{1,2}[0-9/T-]@!|[0-9]{1,2}/[0-9]{1,2}%(/%([0-9]{4}|[0-9]{2}))?[0-9/]@!'
      \ . '|[0-9]{1,2}\.[0-9]{1,2}\.[0-9]{4}[0-9]@!'
      \ . '|%([0-9]{1,2}%(st|nd|rd|th)?\s+' . s:months . '|' . s:months . '\s+[0-9]{1,2}%(st|nd|rd|th)?[0-9:.]@!)'
      \ . '%(,?\s+%(19|20)[0-9]{2}[0-9:]@!)?[A-Za-z0-9]@!)'
let s:clock = '%([0-9]{1,2}%(:[0-9]{2}%(\s*[ap]\.?%(m\.?)?[A-Za-z]@!)?[0-9:A-Za-z]@!|%(\.[0-9]{2})?\s*%([ap]m|[ap]\.m\.|[ap])[A-Za-z0-9]@!'
      \ . '|h[0-9]{2}[0-9A-Za-z]@!)|%(noon|morning|afternoon|evening|overnight)[A-Za-z0-9]@!)'
let s:figures = '[0-2][0-9][0-5][0-9]%(\s*,?\s+[A-Za-z])@='
let s:dotted = '[0-9]{1,2}\.[0-9]{2}[0-9.]@!'
let s:time = '%(%(about|around|ca\.?)\s+[0-9]@=)?%(' . s:clock . '|' . s:figures . ')'
let s:tag = '%(ph[0-9])@![A-Za-z]{1,4}-?[0-9]{1,6}[A-Za-z]?%([A-Za-z0-9]|[.,][0-9])@!'
let s:number = '[0-9]@1<!%([-–−])?%([0-9]+%([.,][0-9]+)+|[0-9]+%(\s+|-)[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\s?[½¼¾⅓⅔⅛⅜⅝⅞]|[0-9]+|\.[0-9]+)'
let s:units = '%(lbs?|pounds?|oz|ounces?|kgs?|kilos?|kilograms?|gr|grams?|grammes?|g|gals?|gallons?|qts?|quarts?|pts?|pints?|cups?|floz|fl\.oz\.?'
      \ . '|tbsps?|tablespoons?|tsps?|teaspoons?|liters?|litres?|l|mls?|milliliters?|millilitres?|inch%(es)?|in|cm|mm|ft|foot|feet|sqft|sqm|m2'
      \ . '|psig?|bars?|kpa|mins?|minutes?|hours?|hrs?|h|days?|d|weeks?|wks?|months?|mos?|years?|yrs?|y|degf|degc|deg%(rees?)?|f|c|sal|salometer'
      \ . '|be|baume|sg|percent|m²|bé|baumé)[A-Za-z0-9]@!|°%(\s?[fc][A-Za-z]@!)?|[%"”″]'
" a letter of any script
let s:letter = '[0-9_]@!\k'
let s:word = '%(%(' . s:letter . ')+%([''’-]%(' . s:letter . ')+)*[0-9]@!>)'
" words that end a name or a step
let s:language = '<%(in|into|out|of|to|for|from|by|at|tag|lot|lic|licen[cs]e|seal|permit|killed|promised|expires|hung|all|but|except|thru|through|and|or'
      \ . '|mixed|add|added|topped|top|stirred|stir|on|off|ran|running|runs|stops|stopped|stop|pressed|skipped|skip|process|recipe|waived|bought|counted|used'
      \ . '|deposit|%(gave|paid)\s+back|refunded|refund|paid|charged?|valued?|shrinks|meter\s+set|lost|refused|opened|vented|dumped|dump|arrived|keep\s+apart|cut\s+into|picked\s+up\s+by'
      \ . '|sent\s+to|shipped\s+to|replaces|together|each|hunter|owner|their\s+tags?|nose%([ \t-]+to)@=|nose-eye|%(neck|length|width|belly)%(\s+[0-9])@=|remark|note|struck|since|ph|sg)>'
let s:clauses = '<%(zone|hours|closed|dates|gallons|degrees|room|quiet\s+after|records\s+kept|sewer\s+ph|phone|email|address|licen[cs]e'
      \ . '|stays|runs|read\s+every|stirred\s+every|holds|counts|keep|comes\s+in|stands|freezes\s+in|thaws\s+at|weighed\s+to|measured\s+to|free\s+for|takes|labou?r|ph|sg|within|lasts|needs|weighs|tannage'
      \ . '|note|process|after|optional|in\s+a\s+bath|tanning\s+begun|raw\s+clock|raw\s+at|since|at\s+mixing|with\s+skins\s+in|again|may\s+rest'
      \ . '|at\s+least|at\s+most|per|struck)>'
let s:heads = '%(shop|customer|vessel|place|kind|measure|supply|recipe|process|sent +out|charge|defect|test)%([ ,]|$)@='

" Words of which none is one of those. Where it is used, Vim's older engine (\%#=1) is much the faster.
function! s:Names(without) abort
  let l:one = '%(%(' . a:without . ')@!' . s:word . ')'
  return '<' . l:one . '%(\s+' . l:one . ')*'
endfunction

" ----- entries -----------------------------------------------------------------------------------------------------------

syntax keyword hidesWord in into out to at but except thru through and or mixed add added stirred stir off ran running runs
syntax keyword hidesWord stops stopped stop pressed skipped skip bought counted used deposit charged refunded refund valued value shrinks lost refused
syntax keyword hidesWord opened vented dumped dump arrived replaces together each killed promised expires hung since back again
syntax keyword hidesWord for from hunter owner nextgroup=hidesPerson skipwhite
syntax keyword hidesWord tag lot licence license lic seal permit nextgroup=hidesCode skipwhite
syntax keyword hidesWord waived nextgroup=hidesFinding skipwhite
syntax keyword hidesWord ph sg
" `PH2.0`: the figure right behind it makes one word of the two
syntax match hidesWord /\v<ph[0-9]@=/
" A keyword outdoes a match that begins at the same place, so words that also begin a phrase, or a definition, are matches.
syntax match hidesWord /\v<%(all|of|on|top|topped)>/
syntax match hidesKnown /\v<%(meter|green|raw|frozen|pull|cut|boil|bend|crease|bald|bad)>/
syntax match hidesWord /\v<%(paid|%(gave|paid)\s+back)>/
syntax match hidesWord /\v<by>/ nextgroup=hidesPerson skipwhite
syntax match hidesWord /\v%>1c<charge>/
syntax match hidesWord /\v%>1c<%(process|recipe)>/ nextgroup=hidesName skipwhite
execute 'syntax match hidesWord ;\v<%(meter\s+set|keep\s+apart|cut\s+into|%(topped|top)\s+up|nose[ \t-]+to[ \t-]+eye|nose-eye|%(neck|length|width|belly)%(\s+[0-9])@=)>;'
syntax match hidesWord /\v<%(picked\s+up\s+by|%(sent|shipped)\s+to)>/ nextgroup=hidesPerson skipwhite
syntax match hidesWord /\v<their\s+tags?>/

" what is known of a hide, a test, a defect, before the shop says anything
syntax keyword hidesKnown fresh freeze froze thawed thaw salted dried dry tanned leather drained shaved water room sewer
syntax match hidesKnown /\v<%(wet\s+salted|dry\s+salted|salt\s+dried|air\s+dried|frozen\s+green)>/
syntax keyword hidesKnown buck doe bull cow boar sow male female ram ewe stag hind billy nanny tom hen cock drake fawn calf lamb kid
syntax keyword hidesKnown slip slipped slipping slips slippage burn burned burnt grease greasy tear tears torn hole holes mould mold mouldy moldy
syntax keyword hidesKnown stain stained stains shrunk shrunken swollen
syntax match hidesKnown /\v<%(hair\s+slip|acid\s+burn|grease\s+burn|raw\s+streaks?|raw\s+lines?|bald\s+spots?|root\s+cuts?|green\s+belly|acid\s+swell%(ing)?|hard\s+spots?|salt\s+bloom)>/
syntax match hidesKnown /\v<%(pull|cut|boil|bend|crease)\s+test>/
syntax keyword hidesKnown ok okay good fine passes passed pass clean tight holds fails failed fail loose
syntax match hidesKnown /\v<%(not\s+ok|all\s+over|by\s+strip|by\s+paper|by\s+meter|of\s+cut|on\s+the\s+cut)>/
syntax keyword hidesKnown slight slightly small badly total extract diluted strip strips paper metre

execute 'syntax match hidesTag ;\v<' . s:tag . ';'
execute 'syntax match hidesNumber ;\v%(<|%(ph)@2<=[0-9]@=|[-–−]@=|[½¼¾⅓⅔⅛⅜⅝⅞]@=|\.[0-9]@=)' . s:number . s:nobreak . '*; nextgroup=hidesUnit skipwhite'
execute 'syntax match hidesUnit contained ;\v%(' . s:units . ');'
execute 'syntax match hidesMoney ;\v[$£€]\s?%([0-9][0-9.,]*[0-9]|[0-9]);'
execute 'syntax match hidesDate ;\v%(<)' . s:date . ';'
execute 'syntax match hidesTime ;\v%(<)' . s:clock . ';'

execute 'syntax match hidesName contained ;\%#=1\v' . s:Names(s:language) . ';'
execute 'syntax match hidesPerson contained ;\%#=1\v' . s:Names(s:language) . ';'
syntax match hidesCode contained /\v#?[A-Za-z0-9]%([-A-Za-z0-9\/.:_]*[A-Za-z0-9])?/
syntax match hidesFinding contained /\v[A-Za-z][A-Za-z'’ \t]*[A-Za-z]/

" the step, or whatever a line says first, behind its stamp and its tags
execute 'syntax match hidesDoing contained ;\%#=1\v' . s:Names(s:language) . ';'
execute 'syntax match hidesWho contained ;\v' . s:tag . '; nextgroup=hidesMore,hidesWho,hidesBare,hidesRemark,hidesDoing skipwhite'
execute 'syntax match hidesMore contained ;\v' . s:nobreak . '|[,:&+/]|<and>|\.{2,}|…|<thru>|<through>|<to>|<but>|<except>|[-–][-–]@!; nextgroup=hidesWho,hidesBare,hidesRemark,hidesDoing skipwhite'
execute 'syntax match hidesBare contained ;\v[0-9]{1,6}%([0-9.,:\/½¼¾⅓⅔⅛⅜⅝⅞°"”″%]|[A-Za-z]|\s*[½¼¾⅓⅔⅛⅜⅝⅞°"”″%]|\s*-?[0-9]+\/[0-9]|\s*%(' . s:units . '))@!; nextgroup=hidesMore,hidesWho,hidesBare,hidesRemark,hidesDoing skipwhite'
syntax match hidesAllIn contained /\v<all\s+in>/ nextgroup=hidesWho skipwhite
execute 'syntax match hidesAfterStamp contained ;\v[,:]|' . s:nobreak . '; nextgroup=hidesAfterStamp,hidesWho,hidesAllIn,hidesRemark,hidesDoing skipwhite'

" A line that begins with its tags, or with a time alone, is dated by a line above it.
execute 'syntax match hidesWho ;\v' . s:margin . s:tag . '; nextgroup=hidesMore,hidesWho,hidesBare,hidesRemark,hidesDoing skipwhite'
execute 'syntax match hidesTimeAlone ;\v' . s:margin . s:time . '; nextgroup=hidesWho,hidesAllIn,hidesAfterStamp,hidesRemark,hidesDoing skipwhite'
execute 'syntax match hidesStampTime contained ;\v%(' . s:time . '|' . s:dotted . '); nextgroup=hidesWho,hidesAllIn,hidesAfterStamp,hidesRemark,hidesDoing skipwhite'
execute 'syntax match hidesStampDate ;\v' . s:margin . s:date . '; nextgroup=hidesStampTime,hidesWho,hidesAllIn,hidesAfterDate,hidesRemark,hidesDoing skipwhite'
execute 'syntax match hidesAfterDate contained ;\v[,:]|' . s:nobreak . '; nextgroup=hidesAfterDate,hidesStampTime,hidesWho,hidesAllIn,hidesRemark,hidesDoing skipwhite'

syntax match hidesComment /\v%(^|[ \t]@1<=)#[0-9]@!.*$/
syntax match hidesRemark /\v%(--+|[—–]%([0-9]|[A-Za-z]{1,4}-?[0-9])@!).{-}%(\ze\s#[0-9]@!|$)/
syntax match hidesRemark /\v\([^()]*\)/
syntax match hidesRemark contained /\v<%(remark|note)>.{-}%(\ze\s#[0-9]@!|$)/
syntax match hidesRemark /\v^\s*\zs<%(remark|note)>.{-}%(\ze\s#[0-9]@!|$)/
syntax match hidesStruck /\v^\s*%(\~\s@=|struck[A-Za-z0-9]@!).*$/

" ----- definitions -------------------------------------------------------------------------------------------------------

execute 'syntax region hidesDefinition start=/\v^' . s:heads . '/ end=/\v\ze\n[^#[:space:]]/ transparent contains=hidesHead,hidesStep,hidesClause,hidesBound,hidesKnownIn,hidesTag,hidesNumber,hidesMoney,hidesPer,hidesDate,hidesTime,hidesComment,hidesStruck'
execute 'syntax match hidesHead contained ;\v^%(shop|customer)%([ ,]|$)@=; nextgroup=hidesTitle skipwhite'
execute 'syntax match hidesHead contained ;\v^%(vessel|place|kind|measure|supply|recipe|process|charge|defect|test)%([ ,]|$)@=; nextgroup=hidesTag,hidesDefined skipwhite'
execute 'syntax match hidesHead contained ;\v^sent +out%([ ,]|$)@=;'
syntax match hidesTitle contained /\v[^,# \t]%([^,#]|[0-9]@1<=,[0-9]@=|\S@1<=#)*/
execute 'syntax match hidesDefined contained ;\%#=1\v' . s:Names(s:clauses . '|<or>') . '; nextgroup=hidesOr skipwhite'
syntax match hidesOr contained /\v<or>/ nextgroup=hidesDefined skipwhite
execute 'syntax match hidesStep contained ;\%#=1\v^\s+\zs' . s:Names(s:clauses . '|<%(or|raw)>') . '; nextgroup=hidesStepOr skipwhite'
syntax match hidesStepOr contained /\v<or>/ nextgroup=hidesStepToo skipwhite
execute 'syntax match hidesStepToo contained ;\%#=1\v' . s:Names(s:clauses . '|<or>') . '; nextgroup=hidesStepOr skipwhite'
syntax match hidesBound contained /\v<at>/
syntax keyword hidesClause contained zone hours closed dates gallons degrees room phone email address licence license stays runs holds counts keep
syntax keyword hidesClause contained stands takes labour labor ph sg within lasts needs weighs tannage note after optional since again rush freight
syntax match hidesClause contained /\v%>1c<process>/
syntax match hidesClause contained /\v<%(quiet\s+after|records\s+kept|sewer\s+ph|%(read|stirred)\s+every%(\s+day)?|comes\s+in|freezes\s+in|thaws\s+at|weighed\s+to|measured\s+to|free\s+for|in\s+a\s+bath|tanning\s+begun|raw\s+clock\s+%(stops|runs)|at\s+mixing|with\s+skins\s+in|may\s+rest|raw%(\s+at\s)@=)>/
syntax keyword hidesBound contained to thru through of or and
syntax keyword hidesBound contained mon monday mondays tue tues tuesday tuesdays wed wednesday wednesdays thu thur thurs thursday thursdays fri friday fridays
syntax keyword hidesBound contained sat saturday saturdays sun sunday sundays
syntax match hidesBound contained /\v<at\s+%(least|most)>/
syntax keyword hidesPer contained per nextgroup=hidesUnit,hidesNumber skipwhite
syntax keyword hidesKnownIn contained green salted drained shaved water liquor hide count

" ----- looks: the reader's own colours -------------------------------------------------------------------------------------

highlight default link hidesStampDate PreProc
highlight default link hidesStampTime PreProc
highlight default link hidesTimeAlone Special
highlight default link hidesDate PreProc
highlight default link hidesTime PreProc
highlight default link hidesWho Identifier
highlight default link hidesBare Identifier
highlight default link hidesTag Identifier
highlight default link hidesMore Operator
highlight default link hidesAllIn Statement
highlight default link hidesDoing Function
highlight default link hidesWord Statement
highlight default link hidesKnown Type
highlight default link hidesNumber Number
highlight default link hidesUnit Number
highlight default link hidesMoney Number
highlight default link hidesCode Constant
highlight default link hidesFinding Constant
highlight default link hidesName Constant
highlight default link hidesPerson Constant
highlight default link hidesRemark String
highlight default link hidesComment Comment
highlight default link hidesStruck Comment
highlight default link hidesHead Title
highlight default link hidesTitle Constant
highlight default link hidesDefined Function
highlight default link hidesStep Function
highlight default link hidesStepToo Function
highlight default link hidesClause Statement
highlight default link hidesBound Operator
highlight default link hidesOr Operator
highlight default link hidesStepOr Operator
highlight default link hidesPer Operator
highlight default link hidesKnownIn Type

" Where to begin when a long page is entered in the middle: at the last line that stands at the margin.
execute 'syntax sync match hidesSyncHead grouphere hidesDefinition /\v^' . s:heads . '/'
execute 'syntax sync match hidesSyncMargin grouphere NONE /\v^%(' . s:heads . ')@![^#[:space:]]/'
syntax sync maxlines=400

unlet s:nobreak s:margin s:months s:date s:clock s:figures s:dotted s:time s:tag s:number s:units s:letter s:word s:language s:clauses s:heads
delfunction s:Names

let b:current_syntax = 'hides'
