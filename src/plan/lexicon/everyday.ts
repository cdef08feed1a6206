/**
 * Words of everyday English that ask for no stitch, however they stand beside an instruction: things, tools, people,
 * praise, finishing. Data alone, chosen by what pattern writers add; words that change what is knitted ("except",
 * "instead", "leaving", "twice", "every") must never stand here.
 */
function words(list: string): ReadonlySet<string> {
  return new Set(list.trim().split(/\s+/));
}

export const EVERYDAY = words(`
  able above method methods technique style ply actually admire advice afternoon afterthought afterwards age ago allow allows almost along already
  alright amazing amount answer anyone anything anyway anywhere apart appear appears aside ask asked attach attached
  aunt auntie away awesome awhile awkward babies baby baby's backstitch bad bag ball bang base basket bath beautiful
  beautifully because become bed been begged behave behaves behind being believe bell below bend best better beware
  big bigger birthday bit bits blanket blankets bliss block blocked blocking blog body boil book bore bored bother
  bottom bound bowl box boy brand break breath breathe breathing bright brilliant bring brings brother brother's
  brush bulky bump bumps bumpy bunch bus business busy button buttons buy calm came can't candle card care careful
  cares case cat catch caught chair chance chapter chart chart's chat cheap cheat check cheer cheerful child children
  choice choose chosen cinch cinched cinching cinnamon class clean clear clearly clever close closer cloth cloths
  club coaster coasters coat coffee cold colourful comfortable comfortably comfy coming comments common company
  confine cool correct correctly cosy couldn't couple course cousin cover covers cowl crochet crocheted crooked
  crowded cup cups curl curls curly curtain cushion cut cute daft daily daisy damp dampen dark darling darn darned
  darning date daughter daylight dear decide deep degrees delight design designed desk detail details diagonal didn't
  different difficult difficulty dishcloth dizzy doesn't dog don't done door doubt dozen drape draped drawer drawing
  dried dry drying dull during ear early ease easily easy edging effect else end's enjoy enjoyed enough entire
  entirely equally error especially essential evening evenings evens event ever everyone everything exact exciting
  expect explain extra eye eyes eyesight fabulous face fair fairly fairy fall falls family fast faster fat favorite
  favour favourite feel feels felt felted felting few fiddle fiddly field figure figures film fine finger fingers
  finish finished finishing fire firm fit fits flap flat flatter floor flower fluffy folk folks fond foot forget
  forgive forgiving forward found frame framed frankly free friend friend's friends fringe frog fun funny further
  fuss garden gate gates gather gathered gathers gave generally generous gentle gents gets getting gift girl give
  given glad glass glasses goes going gone good goodbye gorgeous gosh got graft grafted gran gran's granddaughter
  grandmother granny grate grated grateful great ground grow growing grows guess guild gutter guys habit hadn't haha
  hair hall hand hands handsome handy hang hanger hanging happen happens happy hard harder hardly harm hate haven't
  hay heart heat heavy height hello help helpful helps hers hi hiding high hint hole holes holiday home honest
  honestly hook hooray hope hopefully hot hour hours house hover huge hurray hurry hurrying husband i'd i'll i'm i've idea
  ideal if imagine important inside interest interesting iron isn't it'll it's itself jar jolly jug keen keeps kept
  kettle kids kind kinda kindly kit kitchen knees knew knife knitter knitter's knitters knitting's knot know knows
  label laced lacing lacy ladies lady lamp lap large larger lash later lavender lay layer layers lazy leaflet learn
  learnt least lesson lest let let's letter level lid lie lies life lift light lightly like likely likes line lined
  linen lines lining list little live load loads lol long look looking looks loose looser lost lot lots luck love loved
  lovely low luckily lucky lukewarm lunch lust machine magazine magic magical make makes making man manger manners
  many mare mariner market marvel master masters mat mate matches matching material matter matters mattress maybe meal
  mean meant meantime measured meet meets memory mend merely mess messy middle might mild million mind mine minute
  minutes mistake moist moisten mom moment monday money month months mood morning moth mother mother's mount much
  muffin mug mum must my name nan nana narrow natural naturally near nearly neat neater neatest neatly need needed
  needless needn't needs neighbour neighbours nephew nerve nest nettle never newsletter nice nicely niece nifty night
  nobody non noodles nope normal normally nose notebook nothing notice notion notions nuisance obviously occasion odd
  oddment oddments often oil ok okay old online onto open opened opposite optional ordinary original otter ought
  outside outward outwards overnight oversew oversewing oversewn own packet page pair paler pals pan paper part parts
  party patch patience patient pen pencil people perfect perfectly perhaps person personally phew photo photos
  pictured pictures pie peasy piece pieces pile pin pinhole pinned pinning pins pity plain plan plastic plate platter platters
  play please pleased pleasing plenty pocket pointed pointy polite pompom poor pop popping porch possible post posted
  pot potter potters pottery pouch pounds practice practise prefer preferred press pressed pressing pretty prevent
  prevents previous price problem promise proper properly proud publish pull pulled pulls pure purpose purr purse
  push puts putter quality question quick quicker quickly quiet quietly quite radiator radio rain raining rather
  reach reached read ready real really reason recent recipe recommend rectangle refine refining refrain refunds
  refuse regain rein reject relaid relax relaxed relief rely remade remaining remark remind reminding repaid repair
  repay report reread resent reset resin respect retail retain reveal rewarding rich rid rids right rim ring rinse
  rinsed ripple rippling roads rods roll rolling rolls roman room rough roughly roughs routes rug rule run runes
  running runs sadly safe sailing safety said sake same sample sat satisfying sauna save saw say saying says scary scissors
  scrap scraps seam seams seat secret secure secured securely see seem seems seen send sense sentence serve sew
  sewing sewn shame sharp sheet shelf shoe shoes shop short shorter should shoulder shout show shows shrink shut sigh
  sight sign silly similar simple simply since single sir sister sister's sit sits skein skeins sketch sketches skill
  slack slant slate sleep slight slightly slippery sloppy slow slowly small smaller smart smith smooth snag snatch
  snip snug snugly soak soaked soaking soap sock sofa soft softer softly soggy somebody someone something sometimes
  somewhat somewhere son soon sore sorry sort sorts sound special spin spiral spokes spot spray spread spring squares
  squash squeeze squeezed squint stand stands star starch starches stash stay stays steady steam steamed steel stick
  stiff still stitched storage story strain strange strength stretch stretched stretchy string strong stuck stuff
  stunning style subtle success such suds sunday super supper support suppose sure surely surface surprise surprised
  swear sweet sweetie swirl switcher table tackle tail tails tale talk tall tame tape tassel tassels taste tea teach
  teacher teapot tear tears telephone tell temper template tempting tend tension terrible test tested texture than
  thank thanks that's theirs them themselves there's they'll they're thick thicker thin thing things think thinner
  thought throw thrown thursday tides tidier tidily tidy tie tied ties tiles timed timer tiny tip tips tired tires
  toddler toe together toilet told tomes tomorrow tonight top touch tough toward towards towel towels toy traditional
  train tray treat trick tricky tried trim trimmed trivet trouble true trust try trying tuck tuesday tug tumble
  tutorial tutorials tv twine two's typically ugly umm uncle under underneath unevenly unlike untidy upside useful
  using usual usually value various version via video visible visit voila wait waiting walk wall want wanted wardrobe
  warm warmer wash washable washcloth washed washing wasn't watch water waves way wear weather weave weaving website
  wednesday wee week weekend weeks weigh weight welcome well were what whatever whichever whip whipstitch whoever why
  wide wider width wife wild wind window wine winter wire wish wobble wobbly won won't wonder wonderful wonky wood
  wooden woohoo wool woolly word words wore world worm worn worried worry worth wouldn't wow write wrote yard yards
  yay yeah year years yep yes yesterday yet yikes you'd you'll you're you've young yours yourself youtube yummy
`);
