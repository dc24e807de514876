"""Which sentence says each finding?

A template for each topic, filled in by `filling`; those that follow from more than figures are
picked in `sentences`, under the same topics.
"""

from __future__ import annotations

_OF_A_PATTERN = (
    "axes", "case", "centre", "face", "leading", "orientation", "reading", "size",
    "tracking",
)  # fmt: skip
TEMPLATES: dict[str, str] = {
    # The back
    "thin-back": (
        "The back is {value:mm} wide; under {limit:mm} the trade puts no type on it: think of the "
        "front board or cover."
    ),
    "edge-disagreed": (
        "Printers disagree on the space at each joint: a UK one asks 1 to 3 mm by the width, here "
        "{value:mm}, a US one {limit:mm}. Ask yours, and give it with --edge."
    ),
    "nothing-left": (
        "On a back of {value:mm} the usual space at the joints leaves nothing for lettering."
    ),
    "width-range": (
        "Judged at the least width, {value:mm}; at {limit:mm} the same setting could be "
        "{at_widest_pt:pt at most} at most."
    ),
    "narrow-band": (
        "Bands {value:mm} wide are under {limit:mm}: is it the width along the back that was "
        "measured?"
    ),
    "bands-without-height": (
        "Without the height of the back its panels are not known; give --height."
    ),
    "round-unmeasured": (
        "The round was not measured, so its width counts as if it were flat ({value:mm} can take "
        "ink); lay a tape over it and give --arc. For the view a third of a circle is assumed."
    ),
    "round-angle": (
        "Of the {arc_mm:mm} over the round, {usable_mm:mm} can take ink: beyond {limit} degrees "
        "from the middle it turns away from the eye."
    ),
    "round-measured": (
        "The round measures {arc_mm:mm} over the back (radius {radius_mm:mm}, rise {rise_mm:mm}), "
        "of which {value:mm} can take ink."
    ),
    "foreshortened": (
        "The outermost ink lies {angle_deg:.0f} degrees round the back, where letters show "
        "{value:.0%} of their {along:height|width}."
    ),
    "letters-heaped": (
        "Letters of {font} stand on one another: their line takes {value} of the width of their "
        "ink. The font is damaged, or the tracking too close: look at a drawing before you cut."
    ),
    "one-tone": (
        "A {value} letter on a {limit} covering is hard to see: try it on a piece of the covering, "
        "or take ink or foil of the other tone."
    ),
    "library-foot": (
        "The lettering ends {value:mm} from the tail; the lowest {limit:mm} are best left to a "
        "library's mark."
    ),
    # A call number
    "call-number-along": (
        "The call number stands along the back, in one line: across it takes {value:pt at most} "
        "at most, and {limit:pt} is the least."
    ),
    "call-number-noughts": (
        "The call number, {value}, may have lost a nought in a spreadsheet: give its cell as text, "
        "as it is to be lettered."
    ),
    "call-number-stands": "The call number's {part} stands {value:given mm} from the tail.",
    "call-number-at-head": (
        "An oversize book: the call number stands at the head, its top {value:given mm} from it."
    ),
    "call-number-astray": (
        "The call number finds no room {limit:given mm} from the tail: its {part} stands "
        "{value:mm} from it."
    ),
    "call-number-cover": (
        "The back has no room for the call number in {limit:pt}, across or along: put it on the "
        "front cover."
    ),
    # Across or along
    "reading-right-to-left": (
        "The title reads from right to left: along the back its lines are turned {value}, so as "
        "to read {reading:way}; on a book bound at the {limit} it "
        "{upright:is read upright|stands upside down} when the book lies front cover up."
    ),
    "across-does-not-fit": "Across the back it does not fit.",
    "along-does-not-fit": "Along the back it does not fit.",
    "across-narrow": (
        "By custom a {work} under {limit:mm} is lettered along, and this one has {value:mm against "
        "limit}.{reads: ISO 6357 would have it across, where it can be read so.|}"
    ),
    "across-least": (
        "By custom a {work} so wide is lettered across in {limit:pt} or more with room to "
        "spare; of the {refused.largest_pt:pt at most} that fit, {value:pt at most} leave it."
        "{reads: ISO 6357 would have it across, where it can be read so.|}"
    ),
    "across-lines": (
        "Across is not advised: it takes {value} lines; {limit} are the most that look well."
    ),
    "across-broken": "Across is not advised: a word would be broken.",
    "across-alone": "Across is not advised: small words would stand alone on a line.",
    "across-small": (
        "Across is not advised: its capitals would be {value:mm} high; {limit:mm}, half of those "
        "along the back, is asked."
    ),
    "across-chosen": (
        "By custom a {work} so wide is lettered across where the longest line finds room, which "
        "is read without tilting the head; so has ISO 6357."
    ),
    "across-unreadable": (
        "Across, its capitals would be too small to be read; along the panel they can be."
    ),
    "across-larger": "It stands across: along the back it could be no larger.",
    "across-in-label": "A label that is not tall is lettered across.",
    "across-in-panel": (
        "In a panel between bands lettering stands across; along is avoided unless forced."
    ),
    "over-bands": (
        "It runs along the whole back, over the bands: avoided unless forced, since the bands "
        "break up the letters."
    ),
    # Size
    "advised-share": (
        "{value:pt} is the largest size offered up to {figure} of the largest that fits: lettering "
        "that fills its place looks crowded and leaves nothing for the hand."
    ),
    "advised-aim": (
        "{value:pt}, its capitals {cap_mm:mm} high, is what custom aims at along a {work}; more "
        "would fit, and Cockerell would have lettering comfortably fill the panel."
    ),
    "advised-eye": (
        "{value:pt} is as large as capitals need be to be read from {distance_mm} mm; more would "
        "fit."
    ),
    "advised-floor": ("{value:pt} is the smallest size that holds; less would look better here."),
    "text-size": (
        "The {text} was given {value:pt}, which {small:is too small; a {method} needs "
        "{smallest_pt:pt}|is not among the sizes at hand}: give it another, or leave its size out."
    ),
    "size-not-offered": "{value:pt} is not among the sizes at hand.",
    "too-large": (
        "{value:pt} is too large: {limit:pt at most} is the most, and {excess_mm:mm} would stand "
        "over."
    ),
    "lines-meet": (
        "At {value:pt} “{lower}” runs into “{upper}”, as the lines are moved by hand: move them "
        "less."
    ),
    "legibility-limit": (
        "Even at {largest_pt:pt at most}, the most that fits so, capitals cannot be read with ease "
        "from {distance_mm} mm, but they can from {reads_from_mm:.0f} mm."
    ),
    "axis-not-found": (
        "No {tag} of {font} from {least} to {most} fits and holds at {size:pt}; {value}, with the "
        "most room, is shown."
    ),
    # Strokes, gaps and lines
    "letters-as-asked": "Strokes have {limit} mm, counters {counter_mm} mm or more, as is asked.",
    "letters-touch": "{letters} are closed up until they touch; a {method} joins them for good.",
    "leading-raised": ("Lines {value} of the size apart would touch; {limit:.2f} of it was taken."),
    "tracking-refused": "Letters that join are not spaced apart; their tracking was left out.",
    "words-alone": (
        "Small words stand alone on a line: {value}. If you want them so, say --small-words alone."
    ),
    "words-joined": (
        "With small words on lines of their own it could be set at {value:pt}: --small-words alone."
    ),
    "words-chosen": (
        "Small words stand alone on a line, as asked: {value}. Set them smaller where you can."
    ),
    "words-stranded": "A line ends on an article, away from its word: {value}.",
    "words-broken": "A word is broken at {value}.",
    # Hand letters and type
    "tools-unknown": (
        "The letters of a font stand in for your tools: good to about {limit:.0%}; give their "
        "widths with --tools."
    ),
    "tools-estimated": (
        "The widths of your tools follow from a row of E by the proportions of a font: good to "
        "about {limit:.0%}."
    ),
    "tools-measured": "Lines are as exact as the widths given for your tools.",
    "tools-lacking": (
        "Your tools of {value:pt} have no {letters}, so that size is not offered for this title."
    ),
    # Scripts, spelling and fonts
    "two-spaces": (
        "Between {before:quoted or beginning} and {after:quoted or end} stand several spaces: "
        "one is the rule."
    ),
    "character-without-ink": (
        "Between {before:quoted or beginning} and {after:quoted or end} stands {character}, which "
        "leaves no ink: take it out if it was not meant."
    ),
    "order-of-letters": (
        "Unseen characters steer which way letters read, or hide a text ({characters}). What will "
        "be seen on one line, from left to right: {value}. Take them out if they were not meant: "
        "they come along with what is copied."
    ),
    "character-lost": (
        "Between {before:quoted or beginning} and {after:quoted or end} stands U+FFFD, which a "
        "program left where it could not read a character: type what belongs there."
    ),
    "encoded-twice": (
        "{value} looks like {limit}, read in a wrong encoding: save the list as UTF-8, or type it "
        "anew."
    ),
    "straight-quote": (
        "Between {before:quoted or beginning} and {after:quoted or end} stands {character}, a "
        "typewriter's: {limit} is lettered as a rule"
        "{prime:; after a figure it may be meant as ′ or ″|}."
    ),
    "letters-of-another-font": (
        "{first} lacks {value}: set in {limit} at the same size; see whether the two go together."
    ),
    "breaks-by-dictionary": (
        "{value} words are not parted by spaces: lines end where a dictionary says that words do. "
        "Let a reader see them; a word joiner (U+2060) keeps two parts together, a zero width "
        "space (U+200B) parts them."
    ),
    "breaks-need-a-dictionary": (
        "{value} words are not parted by spaces, and no dictionary is at hand to find where they "
        "end, so that no line is broken inside them: put a zero width space (U+200B) where it may "
        "be, or ' / ' where it must."
    ),
    "mongolian-turned": (
        "Mongolian is set level and turned, which along the back, descending, stands as its "
        "columns do; setting its columns is not supported, and several lines would follow one "
        "another from right to left instead of from left to right: take one line."
    ),
    "letter-outside-its-cell": (
        "The vertical metrics of {font} put {value} outside its cell in a column, so that letters "
        "may run into each other: look at a drawing, or take a font made for columns."
    ),
    "font-checksum": (
        "The file of {font} is not what it says of itself ({value}): it is damaged, or was "
        "edited, and the sizes may be wrong: get the font anew, or measure a print before you cut."
    ),
    "font-head-checksum": (
        "One table of {font} ({value}) is not what its checksum says; by all else in it the size "
        "is right."
    ),
    # Labels
    "label-cut-width": (
        "A label {label.thickness_mm} mm thick bends about its middle: cut it "
        "{label.cut_width_mm:.2f} mm wide to cover {label.covers_mm:.2f} mm of the round; its "
        "face is stretched by {label.face_stretch:stretch}."
    ),
    "label-lap": (
        "Cut the label {label.cut_width_mm:.2f} mm wide: {label.covers_mm:.2f} mm of back"
        "{bends:, {label.bend_mm:.2f} mm more as it bends over the round|}, and on each side "
        "{label.lap.joint_mm:mm} over the joint and {label.lap.board_mm:mm} onto the board, where "
        "its end is covered{measured:|; the round was not measured, so that a usual one was taken: "
        "lay a tape over it, and give --arc}."
    ),
    "lap-cracks": (
        "{known:Paper cracks|Some materials crack} where the boards open over a joint: make this "
        "label of cloth, or of paper lined with cloth or tissue, and try a strip of it first."
    ),
    "lap-holds": "A label of {value:plainly} holds where the boards open over a joint.",
    "lap-pared": (
        "Pare the label thin over the joints and its ends to nothing, or it is stiff there and "
        "shows as a ridge under its covering."
    ),
    "lap-short": (
        "Only {value:mm against limit} of the label lie on each board; {limit:mm} are asked for "
        "what covers its ends to hold them."
    ),
    "old-lettering-band": (
        "Old ink of {old.height_mm:mm} from {value:mm} down would lie across the band at "
        "{begins_mm:bare mm} to {ends_mm:mm} from the head: measure it, and the bands, again."
    ),
    "old-lettering-stays": "The old lettering stays in view, clear of the new.",
    # The front board and the recess
    "board-edge": (
        "Only {value:mm against limit} lie between the label and the nearest edge of its place; "
        "{limit:mm} look settled and are rubbed less."
    ),
    "recess-depth": (
        "The recess is {plan.depth_mm:.4g} mm deep, the label {plan.label_thickness_mm:.4g} mm "
        "thick: it lies safe, {value:.2f} mm below the face."
    ),
    "recess-shallow": (
        "The recess of {value:.4g} mm is shallower than the label of {limit:.4g} mm, whose edge "
        "would be rubbed: cut another card through, or pare the label."
    ),
    "recess-deep": (
        "The label would lie {value:.2f} mm below the face, deeper than need be, and gather dirt "
        "at its edge: take a thinner card, or line the label."
    ),
    "recess-weak": (
        "Only {value:.4g} mm of the {plan.total_mm:.4g} mm are whole board between the cards, and "
        "{limit:.4g} mm are asked: take a thicker board."
    ),
    "recess-small": (
        "The piece cut out is too small to be trimmed for pressing: press the covering in with a "
        "folder."
    ),
    "recess-covered": (
        "What bears old lettering is covered already, and no recess is cut under a covering: paste "
        "the label on, or let it in where the covering is lifted."
    ),
    "recess-round": (
        "A rounded back has no board to cut a recess in: line it with a stiffener bent to the "
        "round, and give its thickness with --stiffener, or paste the label on."
    ),
    "catalogue-marks": (
        "Marks of a library's catalogue, not of a title page: {value}. Letter "
        "“{limit}”{found.subtitle:its subtitle}{found.author:its author}{found.others:left out}."
    ),
    # A plan
    "plan-turned": "The title alone would run the other way, but then the texts do not all fit.",
    "plan-panels": (
        "By custom the title stands in panel {title_panel} and the author in panel {author_panel} "
        "or the next; libraries put the author first. Authorities disagree: any text may be given "
        "its panel."
    ),
    "plan-order": (
        "The author stands before the title, as NBR 12225 and libraries have it; publishers put "
        "the title first. Authorities disagree: the order may be as typed."
    ),
    "plan-relation": (
        "{graded:The title is the largest, the other texts smaller in a fixed relation|All texts "
        "are set in one size}. Authorities disagree on one size or several: either may be asked "
        "for."
    ),
    "plan-relation-lost": (
        "No smaller size can be set, so the {roles} stands as large as the title."
    ),
    "day-number": (
        "The {role} {value} is {are_two:two numbers of |}five figures, as spreadsheets count "
        "days, and would be {limit}: look at the table, and write the {dated:date|number} as it is "
        "to be lettered."
    ),
    "set-apart": (
        "{volume} is set apart, {why}. Where words may be shortened or broken, or a narrower "
        "letter taken, it may keep the size and lines of the others{thin:; unbound, it can be "
        "thickened with blank leaves|}."
    ),
    # A pattern
    "pattern-font": (
        "The font is not the one the pattern was made with: {value} here, {limit} there, or "
        "another version of its file."
    ),
    "pattern-matched": "Size, lines, direction, font and height are those of the pattern.",
    **{
        f"pattern-{name}": (
            f"The {name} asked for is {{value}}; the pattern has {{limit}}, which was judged."
        )
        for name in _OF_A_PATTERN
    },
}
