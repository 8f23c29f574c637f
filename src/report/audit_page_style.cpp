#include "report/audit_page_style.h"

namespace loadlight::report {

// Dark inks on paper white and light inks on near black: every text and sign against its ground has a
// contrast of 4.5 or more (WCAG 2.2, 1.4.3, 1.4.11). Pictures keep their own colours, marks their white halo.
constexpr Markup kStyle = R"(
:root {
  color-scheme: light dark;
  --ground: #ffffff; --raised: #f4f5f3; --ink: #1b1f1e; --quiet: #565d5a; --rule: #cfd4d1;
  --clear: #14532f; --hold: #6f4300; --do-not-use: #991414; --link: #17476e;
}
@media (prefers-color-scheme: dark) {
  :root {
    --ground: #151918; --raised: #1f2523; --ink: #e9edeb; --quiet: #a6b0ac; --rule: #3b4442;
    --clear: #83cfa1; --hold: #e8b45c; --do-not-use: #ff9a90; --link: #98c7ee;
  }
}
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; scroll-padding-top: 1rem; }
body {
  margin: 0 auto; padding: 2rem 1.25rem 4rem; max-width: 68rem;
  background: var(--ground); color: var(--ink);
  font: 1rem/1.5 system-ui, -apple-system, "Segoe UI", "Noto Sans", "Liberation Sans", sans-serif;
}
a { color: var(--link); }
:focus-visible { outline: 3px solid var(--link); outline-offset: 2px; }
h1 { font-size: 1.9rem; line-height: 1.2; margin: 0 0 .25rem; letter-spacing: -.01em; }
h2 { font-size: 1.3rem; line-height: 1.3; margin: 3rem 0 .5rem; padding-top: .75rem; border-top: 2px solid var(--ink); }
h3 { font-size: 1rem; margin: 1.75rem 0 .5rem; }
p { margin: .25rem 0 .75rem; max-width: 46rem; }
header p { margin: 0; color: var(--quiet); }
.headline { margin: 1.5rem 0 0; padding: .9rem 1.1rem; border: 2px solid var(--ink); }
.headline strong { display: block; font-size: 1.5rem; line-height: 1.25; letter-spacing: .01em; }
.headline p { margin: .25rem 0 0; color: var(--ink); }
.trouble { border-width: 4px; border-style: double; }
nav ul { list-style: none; display: flex; flex-wrap: wrap; gap: .25rem 1.5rem; margin: 1.25rem 0 0; padding: 0; }
nav a { display: inline-block; padding: .75rem 0; }
.totals { display: grid; grid-template-columns: repeat(auto-fill, minmax(8.5rem, 1fr)); gap: .5rem; margin: 1rem 0 0; }
.totals div { border: 1px solid var(--rule); padding: .5rem .75rem; display: flex; flex-direction: column-reverse; justify-content: flex-end; }
.totals dt { color: var(--quiet); font-size: .85rem; line-height: 1.3; }
.totals dd { margin: 0; font-size: 1.5rem; line-height: 1.25; font-variant-numeric: tabular-nums; }
.totals .none dd { color: var(--quiet); }
.id, .number { font-variant-numeric: tabular-nums; white-space: nowrap; }
.id { font-family: ui-monospace, "DejaVu Sans Mono", "Liberation Mono", monospace; font-size: .92em; }
.outcome { font-weight: 700; white-space: nowrap; }
.clear { color: var(--clear); } .hold { color: var(--hold); } .do-not-use { color: var(--do-not-use); }
.sign { width: 1.25em; height: 1.25em; vertical-align: -.28em; margin-right: .35em; fill: none; stroke: currentColor; }
.pull { list-style: none; margin: 0; padding: 0; border-top: 1px solid var(--rule); }
.pull li { border-bottom: 1px solid var(--rule); padding: .75rem 0; display: grid; column-gap: .9rem;
  grid-template-columns: 2rem 2.2rem minmax(0, 16rem) minmax(0, 1fr); }
input { width: 1.75rem; height: 1.75rem; margin: .1rem 0 0; accent-color: var(--link); }
.pull .number { color: var(--quiet); text-align: right; text-decoration: none; }
.pull ul { list-style: none; margin: 0; padding: 0; }
.pull ul li { display: block; border: 0; padding: 0 0 .3rem; }
.what { color: var(--quiet); }
.contents { display: block; }
.table { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: .93rem; }
th, td { text-align: left; vertical-align: top; padding: .45rem .9rem .45rem 0; }
th { font-size: .8rem; color: var(--quiet); font-weight: 600; border-bottom: 1.5px solid var(--ink); white-space: nowrap; }
td { border-bottom: 1px solid var(--rule); }
td.number, th.number { text-align: right; }
td.date { white-space: nowrap; font-variant-numeric: tabular-nums; }
tr:target td { background: var(--raised); box-shadow: inset 0 2px var(--link), inset 0 -2px var(--link); }
figure { margin: 1rem 0 1.75rem; overflow-x: auto; }
figcaption { font-size: .85rem; color: var(--quiet); margin-top: .3rem; overflow-wrap: anywhere; }
.sweep { position: relative; min-width: 40rem; }
.sweep img, .sweep svg { display: block; width: 100%; height: auto; }
.sweep svg { position: absolute; inset: 0; height: 100%; fill: none; }
.sweep path { stroke-linejoin: round; stroke-linecap: butt; }
.sweep .halo { stroke: #ffffff; }
.sweep .ink { stroke: currentColor; }
.sweep rect { fill: #ffffff; }
.sweep text { fill: #111111; font-weight: 700; font-family: "Liberation Sans", system-ui, sans-serif; }
.sweep .clear { color: #0b4423; } .sweep .hold { color: #5c3700; } .sweep .do-not-use { color: #8a0f0f; }
.sweep a:focus-visible rect { fill: #ffe27a; }
.legend { list-style: none; display: flex; flex-wrap: wrap; gap: .4rem 1.75rem; margin: .5rem 0 1rem; padding: 0; }
.unreadable { display: grid; grid-template-columns: repeat(auto-fill, minmax(11rem, 1fr)); gap: 1rem; margin: 1rem 0 0; padding: 0; list-style: none; }
.unreadable figure { margin: 0; }
.unreadable img { display: block; width: 100%; height: auto; border: 1px solid var(--rule); }
.caution { margin-top: 3rem; padding: .8rem 1rem; border: 1px solid var(--ink); font-size: .92rem; max-width: none; }
@media (max-width: 40rem) {
  body { padding: 1.25rem 1rem 3rem; }
  h1 { font-size: 1.55rem; }
  .pull li { grid-template-columns: 2rem 1.8rem minmax(0, 1fr); }
  .pull .reasons { grid-column: 3; margin-top: .3rem; }
  .unreadable { grid-template-columns: repeat(auto-fill, minmax(8.5rem, 1fr)); }
}
@media print {
  :root { --ground: #fff; --raised: #fff; --ink: #000; --quiet: #333; --rule: #999;
    --clear: #000; --hold: #000; --do-not-use: #000; --link: #000; }
  body { max-width: none; padding: 0; font-size: 9.5pt; }
  nav { display: none; }
  a { text-decoration: none; }
  h2, h3 { break-after: avoid; }
  li, tr, figure, .headline, .caution { break-inside: avoid; }
  thead { display: table-header-group; }
  figure, .table { overflow: visible; }
  .sweep { min-width: 0; }
}
)";

const Markup kAuditPageStyle = kStyle;

}  // namespace loadlight::report
