/**
 * How the page looks: one column with titles in its margin, for a wall, a desk and a telephone; dark where that is preferred; on paper
 * without anything behind the words. Every meaning of a colour is also in a word, a stroke or a shape.
 *
 * Contrast of all words on their ground is at least 4.5 to 1, the browser tests compute it.
 */
export const STYLE = `
:root {
  color-scheme: light dark;
  --ground: #fbfcfc; --ink: #182225; --quiet: #526168; --hair: #cdd6d8; --faint: #e7ecec;
  --resin: #8a4708; --water: #14598c; --alarm: #a12518; --work: #35615a;
}
@media screen and (prefers-color-scheme: dark) {
  :root {
    --ground: #12191b; --ink: #e4eaea; --quiet: #a0afb3; --hair: #36444a; --faint: #232e32;
    --resin: #e7a458; --water: #74b9e4; --alarm: #ff9684; --work: #86c2b4;
  }
}
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body {
  margin: 0; background: var(--ground); color: var(--ink);
  font: 1rem/1.5 system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "Liberation Sans", Arial, sans-serif;
  font-variant-numeric: tabular-nums; overflow-wrap: anywhere;
}
header, main, footer { max-width: 70rem; margin: 0 auto; padding: 0 1.25rem; }
header { padding-top: 2.5rem; }
h1 { margin: 0; font-size: 2.25rem; font-weight: 650; line-height: 1.15; letter-spacing: -.02em; text-wrap: balance; }
h1 span { display: block; margin-top: .35rem; font-size: 1.125rem; font-weight: 400; letter-spacing: 0; }
header p, .period, .ledger { margin: .15rem 0 0; color: var(--quiet); }
section { margin-top: 2.25rem; padding-top: .9rem; border-top: 1px solid var(--hair); }
header + main > section:first-child, .period + section { border-top: 3px solid var(--ink); margin-top: 1.5rem; }
h2, h3, h4 { margin: 0; font-size: 1rem; font-weight: 650; }
section > h2, section > h3 { margin-bottom: .75rem; }
h3::first-letter, h4::first-letter, th::first-letter, caption::first-letter, dt::first-letter { text-transform: uppercase; }
article { margin-top: 4.5rem; }
article > h2 { font-size: 1.75rem; line-height: 1.2; letter-spacing: -.01em; text-wrap: balance; }
article > h2 span { font-size: 1.125rem; font-weight: 400; letter-spacing: 0; }
article .ledger { margin-top: 2.25rem; font-size: .875rem; }
p { margin: 0; max-width: 46rem; }
.advice { font-size: 1.375rem; line-height: 1.35; margin-bottom: 1.25rem; text-wrap: pretty; }
dl { margin: 0; }
dl > div { display: grid; grid-template-columns: 7.5rem 1fr; column-gap: 1rem; padding: .3rem 0; }
dt { color: var(--quiet); }
dd { grid-column: 2; margin: 0; max-width: 44rem; }
dl > div + div { border-top: 1px solid var(--faint); }
ul { margin: 0; padding: 0; list-style: none; }
li { padding: .3rem 0; max-width: 52rem; }
li + li { border-top: 1px solid var(--faint); }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; color: var(--quiet); padding-bottom: .5rem; }
th { text-align: left; font-weight: 400; }
th, td { padding: .4rem 1rem .4rem 0; vertical-align: baseline; border-top: 1px solid var(--faint); }
thead th { border-top: 0; }
tbody th { color: var(--quiet); }
th:last-child, td:last-child { padding-right: 0; }
.baths { table-layout: fixed; margin-bottom: 1rem; }
.baths th:first-child { width: 8.5rem; }
.baths thead th { font-weight: 650; font-size: 1.125rem; }
.baths thead th:first-child { color: var(--quiet); font-weight: 400; font-size: 1rem; }
.baths b { font-size: 1.5rem; font-weight: 600; line-height: 1.1; letter-spacing: -.01em; }
.shops thead th { font-size: .875rem; }
.shops tbody th { width: 8.5rem; }
.shops tbody th[colspan] { width: auto; padding-top: 1.75rem; border-top: 1px solid var(--quiet); color: var(--ink); font-size: 1.25rem; font-weight: 650; }
.shops th[colspan]::first-letter { text-transform: none; }
.shops td:not([colspan]) { overflow-wrap: normal; }
.shops tbody:first-of-type th[colspan] { padding-top: .75rem; }
.shops th[colspan] .verdict { font-size: 1rem; margin-left: .5rem; }
.shops th[colspan] .small { margin-left: .5rem; font-weight: 400; white-space: nowrap; }
.shops td[colspan] { padding-bottom: .75rem; }
.shops td[colspan] ul { margin-top: .35rem; font-size: .9375rem; }
.shops td[colspan] li { padding: .1rem 0; border: 0; }
.shops b { font-size: 1.125rem; font-weight: 600; }
a { color: inherit; text-decoration-thickness: 1px; text-underline-offset: .2em; }
.range { white-space: nowrap; }
.small { color: var(--quiet); font-size: .875rem; }
.verdict { display: inline-block; padding: .05rem .6rem; border: 1px solid var(--quiet); border-radius: 2px; font-weight: 500; }
.verdict.soon { border: 2px dashed var(--ink); font-weight: 650; }
.verdict.change, .verdict.stop { border: 3px double var(--alarm); color: var(--alarm); font-weight: 700; }
.figure { display: flex; flex-wrap: wrap; column-gap: 1rem; align-items: center; }
.figure .small { flex-basis: 100%; }
.gauge { flex: 1 1 7rem; min-width: 0; max-width: 13rem; overflow: visible; }
.together { white-space: nowrap; }
.gauge .rule { stroke: var(--hair); stroke-width: 1; }
.gauge rect { fill: var(--quiet); fill-opacity: .45; }
.gauge .strokes { stroke: var(--ink); stroke-width: 1.25; fill: none; }
.gauge circle { fill: var(--ink); }
.charts { display: grid; gap: 1.75rem 2rem; }
figure { margin: 0; }
figcaption p { color: var(--quiet); font-size: .9375rem; }
svg { display: block; width: 100%; height: auto; }
svg text { font-size: 14px; fill: var(--quiet); }
.resin { --tone: var(--resin); } .water { --tone: var(--water); } .loads, .washes { --tone: var(--work); }
path { fill: none; stroke-width: 1; }
.axis path { stroke: var(--quiet); } .axis .grid { stroke: var(--faint); }
.axis .now { fill: var(--ink); font-weight: 600; }
path.now { stroke: var(--ink); stroke-dasharray: 1 3; }
.band, .band-ahead { fill: var(--tone, var(--quiet)); fill-opacity: .2; stroke: var(--tone, var(--quiet)); stroke-opacity: .5; stroke-width: .5; }
.band-ahead { fill-opacity: .1; stroke-dasharray: 2 2; }
.best { stroke: var(--tone, var(--ink)); stroke-width: 1.75; stroke-linejoin: round; }
.best-ahead { stroke: var(--tone, var(--ink)); stroke-width: 1.75; stroke-dasharray: 5 3; }
.limits path.soon { stroke: var(--quiet); stroke-dasharray: 1 4; stroke-linecap: round; }
.limits path.change { stroke: var(--alarm); stroke-dasharray: 9 4; stroke-width: 1.25; }
.limits path.never { stroke: var(--alarm); stroke-width: 1.5; }
.limits text.change, .limits text.never { fill: var(--alarm); }
.turn { stroke: var(--hair); }
.sign { fill: var(--ink); stroke: var(--ink); } .sign.hollow { fill: var(--ground); }
.spread { stroke: var(--ink); stroke-width: 1.25; }
.readings circle, .ring { fill: var(--ground); stroke: var(--ink); stroke-width: 1.5; }
.reading-dots { stroke: var(--quiet); stroke-width: 2.5; stroke-linecap: round; }
.date path { stroke: var(--ink); stroke-width: 2; } .date circle { fill: var(--ink); }
.date text { fill: var(--ink); font-weight: 600; stroke: var(--ground); stroke-width: 4; paint-order: stroke; }
.dots { stroke: var(--tone); stroke-width: 4; stroke-linecap: round; }
.blemished circle { fill: none; stroke: var(--ink); stroke-width: 1.5; }
.blemished text { fill: var(--ink); stroke: var(--ground); stroke-width: 3; paint-order: stroke; }
.bars { fill: var(--tone); fill-opacity: .75; }
.key { display: flex; flex-wrap: wrap; gap: .25rem 1.5rem; margin-bottom: 1.25rem; color: var(--quiet); font-size: .9375rem; }
.key li { display: flex; align-items: center; gap: .5rem; border: 0; padding: 0; }
.key svg { width: 28px; height: 16px; flex: none; overflow: visible; }
details { margin-top: 1.5rem; }
summary { cursor: pointer; padding: .4rem 0; width: fit-content; text-decoration: underline; text-underline-offset: .2em; }
summary:focus-visible { outline: 2px solid var(--ink); outline-offset: 3px; }
.numbers { display: grid; gap: 2rem; margin-top: 1rem; }
footer { margin-top: 2.5rem; padding-top: .9rem; padding-bottom: 2.5rem; color: var(--quiet); font-size: .875rem; }
@media (min-width: 60rem) {
  section { display: grid; grid-template-columns: 9rem minmax(0, 1fr); column-gap: 1.5rem; }
  .charts { grid-template-columns: repeat(2, minmax(0, 1fr)); }
  .wide { display: block; }
  svg text { font-size: 12.5px; }
}
@media (max-width: 30rem) {
  header { padding-top: 1.5rem; }
  h1 { font-size: 1.75rem; }
  .advice { font-size: 1.1875rem; }
  .baths th:first-child { width: 4.75rem; }
  .baths th, .baths td { padding-right: .6rem; }
  .baths b { font-size: 1.375rem; }
  .range, .figure, .baths .small { display: block; }
  .shops th, .shops td { padding-right: .5rem; vertical-align: top; }
  .shops tbody th { width: 4rem; }
  .shops .range { font-size: .8125rem; }
  .shops th[colspan] .small { display: block; margin: 0; }
  .gauge { margin: .15rem 0 .1rem; }
  .verdict { font-size: .875rem; padding: .05rem .4rem; }
  dl > div { grid-template-columns: 1fr; }
  dd { grid-column: 1; }
  .numbers table { font-size: .8125rem; }
  .numbers th, .numbers td { padding-right: .5rem; }
}
@page { margin: 12mm; }
@media print {
  :root { --ground: #fff; --ink: #000; --quiet: #444; --hair: #aaa; --faint: #ddd; --resin: #6b3606; --water: #0e4a76; --alarm: #8a1a10; --work: #24514a; }
  html { font-size: 9pt; }
  body { background: none; line-height: 1.35; }
  header, main, footer { max-width: none; padding: 0; }
  h1 { font-size: 18pt; }
  h1 span { display: inline; font-size: 11pt; }
  .advice { font-size: 11.5pt; margin-bottom: 5pt; }
  p, dd, li { max-width: none; }
  .baths { margin-bottom: 3pt; }
  .baths b { font-size: 12pt; }
  .gauge { flex-basis: 4rem; }
  th, td { padding-top: 1.5pt; padding-bottom: 1.5pt; }
  caption { padding-bottom: 2pt; }
  dl > div, li { padding: 1.5pt 0; }
  section { display: grid; grid-template-columns: 27mm minmax(0, 1fr); column-gap: 4mm; margin-top: 7pt; padding-top: 4pt; break-inside: avoid; }
  header + main > section:first-child, .period + section { margin-top: 7pt; }
  .wide { display: block; break-inside: auto; }
  .key { margin-bottom: 5pt; gap: 1pt 9pt; font-size: 8pt; }
  .key li { gap: 3pt; }
  section > h2, section > h3 { margin-bottom: 4pt; }
  article { break-before: page; margin-top: 0; }
  article > h2 { font-size: 16pt; }
  article > h2 span { font-size: 11pt; }
  article .ledger { margin-top: 9pt; }
  .shops b { font-size: 10.5pt; }
  .shops tbody th[colspan] { font-size: 12pt; padding-top: 8pt; }
  .shops tbody { break-inside: avoid; }
  a { text-decoration: none; }
  .charts { grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 6pt 6mm; }
  svg text { font-size: 14.5px; }
  figure, table, tr, li, dl > div, .key { break-inside: avoid; }
  .wide > h2, h3, h4, caption, .key { break-after: avoid; }
  details { display: none; }
  footer { margin-top: 9pt; padding-top: 4pt; padding-bottom: 0; }
}
`;

/** SHA-256 of the style, base64: the policy of the page lets no other style in. A test holds it to the style. */
export const STYLE_SHA256 = 'wH2VhPxng3q/YBhwt94in1JJ6asbF2kg/18rdDOE8Ao=';
