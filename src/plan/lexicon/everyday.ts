/**
 * Words of everyday English that ask for no stitch, however they stand beside an instruction: things, tools, people,
 * praise, finishing. Data alone, chosen by what pattern writers add; words that change what is knitted ("except",
 * "instead", "leaving", "twice", "every") must never stand here.
 */
function words(list: string): ReadonlySet<string> {
  return new Set(list.trim().split(/\s+/));
}

export const EVERYDAY = words(`
  able above actually admire advice afternoon afterthought afterwards age ago allow allows almost along already
  alright amount answer anyone anything anyway anywhere apart appear appears aside ask asked attach attached away
  awhile awkward babies baby baby's backstitch bad bag ball bang base basket bath beautiful beautifully because bed
  been begged behave behaves behind being believe bell below bend best better big bigger birthday bit bits blanket
  blankets block blocked blocking body boil bored bother bottom bound bowl box boy brand break breath breathe
  breathing bright bring brings brother brush bulky bump bumps bumpy bunch business busy button buttons buy calm came
  can't candle card care careful cares case cat catch caught chair chance chart chat cheap cheat check cheer cheerful
  child children choice choose chosen cinch cinched cinching class clean clear clearly clever close closer cloth
  cloths coaster coasters coat coffee cold colourful comfortable comfortably comfy coming comments common company
  correct correctly cosy couldn't couple course cousin cover covers cowl crochet crocheted crooked crowded cup cups
  curl curls curly curtain cushion cut cute daft daily daisy damp dampen dark darn darned darning date daughter dear
  decide deep degrees delight design designed desk detail details diagonal didn't different difficult difficulty
  dishcloth dizzy doesn't dog don't done door doubt dozen drape draped drawer drawing dried dry drying dull during
  ear early ease easily easy edging effect else end's enjoy enjoyed enough entire entirely equally error especially
  essential evening evenings ever everyone everything exact exciting expect explain extra eye eyes face fair fairly
  fairy fall falls family fast faster fat favourite feel feels felt felted felting few fiddle fiddly field figure
  figures fine finger fingers finish finished finishing fire firm fit fits flap flat flatter floor flower fluffy folk
  folks fond foot forget forgive forgiving forward found frame framed free friend friends fringe frog fun funny
  further fuss garden gather gathered gathers gave generous gentle gets getting gift girl give given glad glass goes
  going gone good goodbye gorgeous got graft grafted gran grandmother granny grateful great ground group grow growing
  grows guess guild habit hadn't hair hall hand hands handsome handy hang hanger hanging happen happens happy hard
  harder hardly harm hate haven't hay heart heat heavy height hello help helpful helps hers hi hiding high hint hole
  holes holiday home honest honestly hook hooray hope hot hour hours house hover huge hurry i'd i'll i'm i've idea
  ideal if imagine important inside interest interesting iron isn't it'll it's itself jar jolly jug keen keeps kept
  kettle kind kinda kindly kit kitchen knees knew knife knitter knitter's knitters knot know knows label laced lacing
  lacy lady lamp lap large larger later lavender lay layer layers lazy leaflet learn learnt least lesson let let's
  letter level lid lie lies life lift light lightly like likely likes line lined linen lines lining list little live
  load loads long look looking looks loose looser lost lot lots love loved lovely low lucky lukewarm lunch machine
  magazine makes making man many mat matches matching material matter matters mattress maybe meal mean meant meantime
  measured meet meets memory mend merely mess messy middle might mild mind mine minute minutes mistake moist moisten
  moment monday money month months mood morning moth mother mount much mug must my name narrow natural naturally near
  nearly neat neater neatest neatly needed needn't neighbour neighbours nerve never nice nicely night nobody non
  normal normally nose notebook nothing notice notion notions nuisance occasion odd oddment oddments often oil ok
  okay old onto open opened opposite optional ordinary original ought outside outward outwards overnight oversew
  oversewing oversewn own packet page pair paler pan paper part parts party patch patience patient pen pencil people
  perfect perfectly perhaps person photo pictures piece pieces pile pin pinned pinning pins pity plain plan plastic
  plate play please pleased pleasing plenty pocket pointed pointy polite pompom poor pop popping possible post posted
  pot pouch pounds practice practise prefer preferred press pressed pressing pretty prevent prevents previous price
  problem promise proper properly proud publish pull pulled pulls purpose purse push puts quality question quick
  quicker quickly quiet quietly quite radiator rather reach reached read ready real really reason recipe recommend
  rectangle refuse relax relaxed relief rely remaining remind rewarding rich rid right rim ring rinse rinsed ripple
  rippling roll rolling rolls room rough roughly rug rule run running runs safe safety said sake same sample sat
  satisfying sauna save saw say saying says scary scissors scrap scraps seam seams seat secret secure secured
  securely see seem seems seen send sense sentence serve sew sewing sewn shame sharp sheet shelf shoe shoes shop
  short shorter should shoulder shout show shows shrink shut sigh sight sign silly similar simple simply since single
  sir sister sit sits skein skeins skill slack slant slate sleep slight slightly slippery sloppy slow slowly small
  smaller smooth snag snip snug snugly soak soaked soaking soap sock sofa soft softer softly soggy somebody someone
  something sometimes somewhat somewhere son soon sore sorry sort sorts sound special spin spiral spokes spot spray
  spread spring squares squash squeeze squeezed squint stand stands star stash stay stays steady steam steamed steel
  stiff still stitched storage story strain strange strength stretch stretched stretchy string strong stuck stuff
  stunning style subtle success such suds sunday super supper support suppose sure surely surface surprise surprised
  swear sweet swirl table tackle tail tails tale talk tall tame tape tassel tassels taste tea teach teacher teapot
  tear tears telephone tell temper template tempting tend tension terrible test tested texture than thank thanks
  that's theirs them themselves there's they'll they're thick thicker thin thing things think thinner thought throw
  thrown thursday tidier tidily tidy tie tied tiny tip tips tired toe together toilet told tomorrow tonight top touch
  tough toward towards towel towels toy traditional train tray treat trick tricky tried trim trimmed trivet trouble
  true trust try trying tuck tuesday tug tumble two's ugly under underneath unevenly unlike untidy upside useful
  using usual usually value various version via video visible visit voila wait waiting walk wall want wanted wardrobe
  warm warmer wash washable washcloth washed washing wasn't watch water waves way wear weather weave weaving
  wednesday wee week weekend weeks weigh weight welcome well were what whatever whichever whip whipstitch whoever why
  wide wider width wild wind window wine winter wire wish wobble wobbly won won't wonder wonderful wonky wood wooden
  wool woolly word words world worn worried worry worth wouldn't wow write wrote yard yards yeah year years yes
  yesterday yet you'd you'll you're you've young yours yourself yummy
`);
