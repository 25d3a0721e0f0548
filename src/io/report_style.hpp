// The report page's style sheet.
#pragma once

#include <string_view>

namespace beetwright::io {

// Read in sunlight and printed in grey: dark on light throughout (7:1 and more), three fills for
// the three places where sugar goes, told apart by words and by hatching as well as by colour.
inline constexpr std::string_view kReportStyle = R"css(
:root { --ink: #1b1a17; --soft: #4a463d; --paper: #fffdf8; --rule: #cfc8b8; --band: #e9c46a;
  --field: #8c2f1b; --storage: #1f4e5f; --factory: #55504a; }
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink);
  font: 17px/1.5 "DejaVu Sans", "Segoe UI", system-ui, sans-serif; }
header, main, footer { max-width: 1080px; margin: 0 auto; padding: 0 20px; }
header { padding-top: 28px; }
h1 { font-size: 2rem; line-height: 1.2; margin: 0 0 4px; }
h2 { font-size: 1.4rem; margin: 44px 0 8px; padding-top: 12px; border-top: 3px solid var(--ink); }
h3 { font-size: 1.15rem; margin: 32px 0 4px; }
p { max-width: 68ch; margin: 8px 0; }
nav ul { list-style: none; display: flex; flex-wrap: wrap; gap: 8px; padding: 0; margin: 16px 0 0; }
nav a { display: inline-block; padding: 11px 16px; border: 2px solid var(--ink); border-radius: 4px;
  color: var(--ink); text-decoration: none; font-weight: 600; }
:focus-visible { outline: 3px solid var(--storage); outline-offset: 2px; }
a { color: #123f4e; }
.figures-row { display: flex; flex-wrap: wrap; gap: 12px 44px; margin: 16px 0; }
.figures-row div { min-width: 150px; }
.figures-row dt { color: var(--soft); font-size: 0.95rem; }
.figures-row dd { margin: 0; font-size: 1.6rem; font-weight: 700; line-height: 1.25; }
.figures-row dd small { display: block; font-size: 0.95rem; font-weight: 400; color: var(--soft); }
.scroll { overflow-x: auto; margin: 12px 0; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; font-size: 0.95rem; }
th, td { text-align: right; padding: 7px 10px; border-bottom: 1px solid var(--rule); white-space: nowrap;
  vertical-align: top; }
th[scope="row"], td.words, th.words { text-align: left; white-space: normal; min-width: 11rem; }
thead th { border-bottom: 2px solid var(--ink); font-weight: 600; vertical-align: bottom; }
tr.balance th, tr.balance td { font-weight: 700; border-top: 2px solid var(--ink); }
td small { display: block; color: var(--soft); }
svg.falling-band { display: block; width: 100%; height: auto; margin: 12px 0; max-width: 900px; }
svg.narrow { display: none; }
svg text { fill: var(--ink); font-size: 14px; }
svg text.name { font-weight: 700; }
svg text.balance { font-size: 18px; font-weight: 700; }
svg text.paid { font-size: 18px; font-weight: 700; }
svg text.figures { fill: var(--soft); }
svg .band { fill: var(--band); stroke: var(--ink); stroke-width: 1; }
svg .peel { stroke-width: 0.8; }
svg .peel.field { fill: var(--field); stroke: var(--field); }
svg .peel.storage { fill: var(--storage); stroke: var(--storage); }
svg .peel.factory { fill: var(--factory); stroke: var(--factory); }
svg .whisker { fill: none; stroke: var(--ink); stroke-width: 1.4; }
.key { display: flex; flex-wrap: wrap; gap: 6px 22px; padding: 0; margin: 8px 0; list-style: none; }
.key span { display: inline-block; width: 26px; height: 12px; margin-right: 8px; vertical-align: baseline; }
.key .field { background: var(--field); } .key .storage { background: var(--storage); }
.key .factory { background: var(--factory); }
details { margin: 8px 0; } summary { cursor: pointer; padding: 12px 0; font-weight: 600; }
.caution { border-left: 6px solid var(--field); padding: 4px 0 4px 16px; }
.note { color: var(--soft); }
footer { padding-bottom: 48px; }
@media (max-width: 640px) {
  body { font-size: 16px; }
  header, main, footer { padding-left: 14px; padding-right: 14px; }
  svg.wide { display: none; } svg.narrow { display: block; }
  h1 { font-size: 1.6rem; }
}
@media print {
  body { font-size: 11pt; background: none; } nav { display: none; } h2 { break-after: avoid; }
  table, svg { break-inside: avoid; } .scroll { overflow: visible; }
}
)css";

}  // namespace beetwright::io
