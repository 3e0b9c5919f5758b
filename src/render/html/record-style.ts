/**
 * How a wash record looks: a form on white paper, A4 or Letter, the same on a screen. No meaning is in a colour.
 */
export const RECORD_STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100%; background: #e9ecec; }
body {
  margin: 0 auto; max-width: 60rem; padding: 2rem 1.25rem; background: #fff; color: #111; line-height: 1.4;
  font-family: system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "Liberation Sans", Arial, sans-serif;
  font-variant-numeric: tabular-nums; overflow-wrap: anywhere;
}
h1 { margin: 0 0 .6rem; font-size: 1.75rem; line-height: 1.15; }
h1 span { font-size: 1.125rem; font-weight: 400; margin-left: .5rem; }
h2 { margin: 0 0 .5rem; font-size: 1.0625rem; }
h2 span { font-weight: 400; margin-left: .5rem; }
h2 time { margin-left: .5rem; }
p { margin: 0; }
time, .whole { white-space: nowrap; }
dl { margin: 0; display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 21rem), 1fr)); column-gap: 2rem; }
dl > div { display: grid; grid-template-columns: 8.5rem minmax(0, 1fr); column-gap: .75rem; padding: .15rem 0; border-bottom: 1px solid #ddd; }
dl.long { display: block; }
dt { color: #444; }
dt::first-letter, th::first-letter, caption::first-letter { text-transform: uppercase; }
dd { margin: 0; grid-column: 2; }
i { font-style: italic; color: #444; }
table { border-collapse: collapse; width: 100%; margin: .75rem 0; }
caption { text-align: left; color: #444; padding-bottom: .25rem; }
th, td { text-align: left; vertical-align: baseline; font-weight: 400; padding: .15rem .75rem .15rem 0; border-bottom: 1px solid #ddd; }
thead th { border-bottom: 1px solid #111; font-weight: 600; }
th:last-child, td:last-child { padding-right: 0; }
.baths { table-layout: fixed; }
.baths th:first-child { width: 13rem; }
.list table { table-layout: fixed; }
.list time { white-space: normal; }
.list thead th:nth-child(1) { width: 19%; }
.list thead th:nth-child(2), .list thead th:nth-child(3) { width: 8%; }
.list thead th:nth-child(5) { width: 18%; }
.list thead th:nth-child(6) { width: 11%; }
.list thead th:nth-child(7) { width: 13%; }
.list thead th:nth-child(8) { width: 10%; }
tbody th { color: #444; }
header { padding-bottom: 1rem; }
main > section { margin-top: 1.5rem; padding-top: .75rem; border-top: 2px solid #111; }
ul { margin: 0; padding-left: 1.1rem; }
.caution { margin-top: .6rem; font-size: .875rem; color: #333; }
.origin { font-size: .875rem; color: #333; }
.sign { display: grid; grid-template-columns: 2fr 1fr 2fr; column-gap: 1.5rem; margin-top: 2.25rem; font-size: .875rem; color: #333; }
.sign span { border-top: 1px solid #111; padding-top: .15rem; }
footer { margin-top: 1.5rem; padding-top: .75rem; border-top: 1px solid #111; font-size: .875rem; color: #333; }
footer li + li { margin-top: .2rem; }
@media (max-width: 34rem) {
  h1 span, h2 time { display: block; margin: 0; }
  time, .whole { white-space: normal; }
  dl > div { grid-template-columns: 6.5rem minmax(0, 1fr); }
  .sign { grid-template-columns: 1fr; row-gap: 2.25rem; }
  .baths th:first-child { width: 7.5rem; }
  .list thead { display: none; }
  .list table, .list caption, .list tbody, .list tr, .list td, .list tbody th { display: block; width: auto; border: 0; padding: 0; }
  .list tr { padding: .4rem 0; border-bottom: 1px solid #ddd; }
  .list td:empty { display: none; }
}
@page {
  margin: 13mm 14mm 15mm;
  @bottom-left { content: "Wash record"; font: 8pt sans-serif; color: #444; }
  @bottom-right { content: counter(page) " of " counter(pages); font: 8pt sans-serif; color: #444; }
}
@media print {
  html { font-size: 9pt; background: none; }
  body { max-width: none; padding: 0; line-height: 1.3; }
  h1 { font-size: 17pt; }
  dl { grid-template-columns: 1fr 1fr; column-gap: 8mm; }
  dl > div { grid-template-columns: 27mm minmax(0, 1fr); }
  .baths th:first-child { width: 42mm; }
  header { padding-bottom: 0; }
  main > section { break-inside: avoid; margin-top: 6mm; padding-top: 2mm; }
  main > section.list { break-inside: auto; }
  tr, li, dl > div, .sign { break-inside: avoid; }
  h2, caption, thead { break-after: avoid; }
  th, td, dl > div { padding-top: .35mm; padding-bottom: .35mm; }
  table { margin: 1.5mm 0; }
  .sign { margin-top: 9mm; }
  footer { margin-top: 6mm; break-inside: avoid; }
}
`;

/** SHA-256 of it, base64: the policy of the page lets no other style in. A test holds it to the style. */
export const RECORD_STYLE_SHA256 = 'CaZUD156R/3WNth0HwIN6WVqDwEygaPi4hlfI3jUv1c=';
