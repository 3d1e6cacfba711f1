/**
 * The layout of every paper, in Typst's own language. It is constant: the content comes in as data, so nothing that
 * somebody wrote into a site file is ever read as layout.
 */
export const TEMPLATE = String.raw`
#let data = json(bytes(sys.inputs.data))
#let ink = rgb("#1d2321")
#let soft = rgb("#4e5651")
#let hair = rgb("#a9a493")
#let copper = rgb("#9a4a1f")
#let notice = data.look == "notice"

#set document(title: data.title + ": " + data.subject, author: data.author, date: datetime(year: data.day.at(0), month: data.day.at(1), day: data.day.at(2)))
#set text(font: "DejaVu Sans", fill: ink, lang: data.lang, hyphenate: false, cjk-latin-spacing: none)
// Where a word that is wider than its place may be broken; nothing is printed there.
#show "\u{e000}": h(0.001pt)
#set par(leading: 0.62em, spacing: 0.95em)
#set heading(numbering: none)
#set table.cell(breakable: false)
#set page(
  paper: "a4",
  flipped: data.look == "wide",
  margin: (x: 19mm, top: if notice { 15mm } else { 22mm }, bottom: 19mm),
  header: if notice { none } else {
    set text(size: 7.4pt, fill: soft)
    grid(columns: (1fr, auto), column-gutter: 10pt, data.running, data.title)
    v(-5pt)
    line(length: 100%, stroke: 0.4pt + hair)
  },
  footer: {
    set text(size: 7.2pt, fill: soft)
    line(length: 100%, stroke: 0.4pt + hair)
    v(-3pt)
    grid(columns: (1fr, auto), column-gutter: 10pt, data.footer, context [#data.words.page #counter(page).display() #data.words.of #counter(page).final().first()])
  },
)

#let small(body) = text(size: 0.82em, fill: soft, body)
#let rule = line(length: 100%, stroke: 0.4pt + hair)
#let blank(lines: 1) = box(width: 1fr, height: 1.35em * lines, stroke: (bottom: 0.5pt + soft))

#let paragraph(b) = {
  let weight = b.at("weight", default: "")
  if weight == "lead" { block(above: 1em, below: 0.75em, text(size: 1.06em, weight: "bold", b.text)) } else if weight == "aside" { small(b.text) } else { b.text }
  parbreak()
}

#let items(b) = {
  let strong-items = b.at("strong", default: false)
  let one(t) = if strong-items { strong(t) } else { t }
  if b.at("numbered", default: false) { enum(spacing: 0.7em, ..b.items.map(one)) } else { list(spacing: 0.7em, marker: [–], ..b.items.map(one)) }
}

#let captioned(caption, body) = {
  if caption != "" { block(above: 1.2em, below: 0.5em, sticky: true, small(caption)) }
  body
}

#let ruled(cols, header, cells, aligns, row-height: none) = table(
  columns: cols,
  align: aligns,
  inset: (x: 4pt, y: if row-height == none { 4pt } else { row-height }),
  stroke: (x, y) => (bottom: if y == 0 { 0.8pt + ink } else { 0.4pt + hair }, left: if row-height != none and x > 0 { 0.3pt + hair }),
  table.header(..header.map(h => text(size: 0.86em, weight: "bold", h))),
  ..cells,
)

#let tabular(b) = {
  let to-write = b.at("toWrite", default: false)
  captioned(b.caption, text(size: 0.92em, ruled(
    b.columns.map(c => c.share * 1fr),
    b.columns.map(c => c.head),
    b.rows.flatten(),
    b.columns.map(c => if c.at("right", default: false) { right + top } else { left + top }),
    row-height: if to-write { 6.5pt } else { none },
  )))
}

#let figures(b) = captioned(b.caption, ruled(
  (1.1fr, 0.9fr, 1fr),
  (data.words.figure, data.words.value, data.words.source),
  b.rows.map(r => (r.label, strong(r.value), small(r.source + "; " + data.words.tags.at(r.tag)))).flatten(),
  (left + top, left + top, left + top),
))

#let drawing(b) = figure(
  image(bytes(b.svg), format: "svg", alt: b.alt, width: b.width * 100%),
  caption: none, outlined: false,
) + if b.caption != "" { align(center, small(b.caption)) }

// Widths and heights of a place for a photo, so that an upright one takes no more of the page than a lying one.
#let photographs(b) = {
  let place = if b.across == 2 { 83mm } else { 38.5mm }
  block(below: 1.4em, grid(
    columns: (1fr,) * b.across,
    column-gutter: 6mm,
    row-gutter: 5mm,
    ..b.items.map(p => block(breakable: false, {
      let wide = place * calc.min(1, p.picture.width / p.picture.height)
      align(left, image(p.picture.jpeg, format: "jpg", alt: p.alt, width: wide))
      block(above: 0.5em, small(p.caption))
    })),
  ))
}

#let checklist(b) = for item in b.items {
  block(below: 0.75em, breakable: false, grid(
    columns: (1.7em, 1fr),
    text(size: 1.15em, "☐"),
    item.text + if "note" in item { linebreak() + small(item.note) },
  ))
}

#let cautions(b) = block(width: 100%, above: 1.1em, below: 1.1em, inset: (left: 9pt, rest: 6pt), stroke: (left: 3pt + ink, rest: 0.6pt + ink), {
  block(below: 0.7em, sticky: true, strong(b.title))
  list(spacing: 0.6em, marker: [!], ..b.items)
  if b.reviewed != "" { block(above: 0.8em, small(b.reviewed)) }
})

#let fields(b) = for row in b.rows {
  let value = row.at("value", default: none)
  block(above: 0.7em, below: 0.7em, breakable: false, grid(
    columns: (auto, 1fr),
    column-gutter: 7pt,
    align: if value != none { top } else { bottom },
    text(fill: soft, row.label),
    if value != none { strong(value) } else { blank(lines: row.at("lines", default: 1)) },
  ))
}

#let signatures(b) = for role in b.roles {
  let known = b.at("named", default: ()).find(one => one.role == role)
  block(above: 1.6em, below: 0.6em, breakable: false, grid(
    columns: (2fr, 2fr, 1fr),
    column-gutter: 9pt,
    row-gutter: 4pt,
    ..if known == none { range(3).map(_ => blank()) } else { (strong(known.name), blank(), known.on) },
    small(role + ": " + data.words.name), small(data.words.signature), small(data.words.date),
  ))
}

#let stack-of(blocks) = for b in blocks {
  if b.kind == "heading" { heading(level: b.level + 1, b.text) }
  else if b.kind == "paragraph" { paragraph(b) }
  else if b.kind == "list" { items(b) }
  else if b.kind == "table" { tabular(b) }
  else if b.kind == "figures" { figures(b) }
  else if b.kind == "drawing" { drawing(b) }
  else if b.kind == "photographs" { photographs(b) }
  else if b.kind == "checklist" { checklist(b) }
  else if b.kind == "cautions" { cautions(b) }
  else if b.kind == "fields" { fields(b) }
  else if b.kind == "signatures" { signatures(b) }
  else if b.kind == "columns" { grid(columns: (b.share * 1fr, (1 - b.share) * 1fr), column-gutter: 14pt, stack-of(b.left), stack-of(b.right)) }
}

#let identity = {
  block(above: 2em, sticky: true, rule)
  small({
    for row in data.identity { block(above: 0.45em, below: 0.45em, [#row.at(0): #row.at(1)]) }
  })
}

#let whole = {
  block(below: 0.3em, text(fill: soft, data.heading))
  heading(level: 1, data.title)
  stack-of(data.blocks)
  if not notice { identity }
}

#show heading.where(level: 1): it => block(above: 0.55em, below: 0.7em, text(size: if notice { 1.25em } else { 1.45em }, weight: "bold", it.body))
#show heading.where(level: 2): it => block(above: if notice { 1.05em } else { 1.8em }, below: 0.65em, sticky: true, text(size: if notice { 1em } else { 1.08em }, weight: "bold", fill: copper, it.body))
#show heading.where(level: 3): it => block(above: 1.3em, below: 0.55em, sticky: true, strong(it.body))

#set text(size: float(sys.inputs.size) * 1pt)
#whole
`;
