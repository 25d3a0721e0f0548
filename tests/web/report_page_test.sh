#!/usr/bin/env bash
# The report page in a real browser, at phone, tablet and desk size, in both systems of units: it fits, its
# text can be read, its band is drawn to scale, and it asks nothing of the network.
# Usage: report_page_test.sh <folder of the built programs> [folder for pictures]
set -euo pipefail
bin=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
pictures=${2:-$work/pictures}
mkdir -p "$pictures"
chromium=${CHROMIUM:-/usr/bin/chromium}
[[ -x $chromium ]] || { echo "no browser at $chromium: ./run setup installs one" >&2; exit 1; }

browse() {  # width height option... url
    local width=$1 height=$2
    shift 2
    timeout 60 "$chromium" --headless --no-sandbox --disable-gpu --disable-quic --no-first-run \
        --disable-background-networking --disable-component-update --disable-sync --hide-scrollbars \
        --user-data-dir="$work/profile" --window-size="$width,$height" "$@" 2>/dev/null
}

# Appended to a copy of the page: measures it and tells the page whose frame it stands in. A frame, because a
# window of a headless browser is never narrower than 500 px.
measure='<script>
addEventListener("load", () => {
  const found = [];
  const fail = (what) => found.push("FAIL " + what);
  const root = document.documentElement;
  if (root.scrollWidth > innerWidth) fail("the page is " + root.scrollWidth + " wide in a window of " + innerWidth);
  let smallest = 99, checked = 0;
  for (const element of document.querySelectorAll("body *")) {
    const own = [...element.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
    if (!own || !element.getClientRects().length || element.tagName === "SCRIPT" || element.tagName === "TITLE") continue;
    let size = parseFloat(getComputedStyle(element).fontSize);
    const svg = element.closest("svg");
    if (svg) size *= svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    if (size < smallest) smallest = size;
    checked++;
  }
  if (smallest < 12) fail("the smallest text is " + smallest.toFixed(1) + " px");
  for (const link of document.querySelectorAll("nav a")) {
    if (link.getBoundingClientRect().height < 48) fail("a link is " + link.getBoundingClientRect().height + " px high");
  }
  let bands = 0;
  for (const svg of document.querySelectorAll("svg.falling-band")) {
    if (!svg.getClientRects().length) continue;
    bands++;
    const box = svg.getBoundingClientRect();
    for (const text of svg.querySelectorAll("text")) {
      const r = text.getBoundingClientRect();
      if (r.right > box.right + 1 || r.left < box.left - 1) fail("cut off: " + text.textContent);
    }
    const band = svg.querySelector(".band").getBBox();
    for (const peel of svg.querySelectorAll(".peel")) {
      const drawn = peel.getBBox(), told = parseFloat(peel.dataset.width);
      // A peel is as thick at its end as its loss is of the band; its box is at least that high.
      if (drawn.height < told) fail("a peel is thinner than its loss: " + peel.dataset.line);
      if (told > band.width) fail("a loss is wider than the crop: " + peel.dataset.line);
    }
    const sum = [...svg.querySelectorAll(".peel")].reduce((s, p) => s + parseFloat(p.dataset.width), 0);
    const points = svg.querySelector(".band").getAttribute("d");
    const right = parseFloat(points.slice(1)), last = points.match(/L([\d.]+) [\d.]+L[\d.]+ [\d.]+L[\d.]+ [\d.]+Z$/);
    if (Math.abs(right - sum - parseFloat(last[1])) > 0.1) fail("the band does not narrow by its losses");
  }
  for (const table of document.querySelectorAll("table")) {
    if (!table.querySelector("thead th[scope=col]")) fail("a table without column heads");
  }
  const levels = [...document.querySelectorAll("h1,h2,h3")].map((h) => +h.tagName[1]);
  levels.forEach((level, i) => { if (i && level > levels[i - 1] + 1) fail("a heading skips a level"); });
  const ids = [...document.querySelectorAll("[id]")].map((e) => e.id);
  if (new Set(ids).size !== ids.length) fail("an id stands twice");
  for (const link of document.querySelectorAll("a[href^=\"#\"]")) {
    if (!document.getElementById(link.getAttribute("href").slice(1))) fail("a link leads nowhere: " + link.textContent);
  }
  if (performance.getEntriesByType("resource").length) fail("something was fetched");
  found.push("checked at " + innerWidth + " px: " + checked + " texts, " + bands + " bands, smallest " + smallest.toFixed(1) + " px");
  parent.postMessage(found.join("\n"), "*");
});
</script>'

"$bin/beetwright_demo_season" "$work/season" >/dev/null
ended=0
for units in metric us; do
    page=$work/$units.html
    "$bin/beetwright" report --season "$work/season" --units "$units" --out "$page" >/dev/null
    { cat "$page"; echo "$measure"; } >"$work/measured-$units.html"
    for size in 'phone 390 2600' 'tablet 1024 2200' 'desk 1440 2200'; do
        read -r name width height <<<"$size"
        cat >"$work/frame.html" <<END
<pre>nothing was said</pre>
<script>addEventListener("message", (e) => document.querySelector("pre").textContent = e.data)</script>
<iframe src="measured-$units.html" style="width:${width}px;height:${height}px;border:0"></iframe>
END
        said=$(browse 1600 "$height" --virtual-time-budget=4000 --dump-dom "file://$work/frame.html" |
            sed -n 's/.*<pre>//; /FAIL\|checked/p')
        browse "$width" "$height" --screenshot="$pictures/$units-$name.png" "file://$page"
        echo "$units $name: ${said//<*/}"
        [[ $said == *checked* && $said != *FAIL* ]] || ended=1
    done
done
exit $ended
