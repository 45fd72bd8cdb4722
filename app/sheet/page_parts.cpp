#include "sheet/page_parts.h"

namespace pitwright::sheet {

std::string_view page_style() {
  return R"css(
:root { color-scheme: light; --ink: #1f2328; --soft: #57606a; --hair: #c9ced4; --wash: #f3f4f6; }
* { box-sizing: border-box; }
html { background: #fff; color: var(--ink); -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; max-width: 62rem; padding: 1rem 1rem 3rem; line-height: 1.5;
  font: 1rem/1.5 Verdana, "DejaVu Sans", sans-serif; font-size: .94rem; }
header { border-top: 6px solid var(--ink); padding-top: .8rem; }
.kind { margin: 0; font-size: .8rem; color: var(--soft); }
h1 { font-size: 1.7rem; line-height: 1.2; margin: .1rem 0 .2rem; overflow-wrap: anywhere; }
.facts { margin: 0; color: var(--soft); overflow-wrap: anywhere; }
.sentence { font-size: 1.2rem; line-height: 1.5; margin: 1rem 0 0; overflow-wrap: anywhere; }
.made { margin: .6rem 0 0; font-size: .85rem; color: var(--soft); }
h2 { font-size: 1.12rem; margin: 2.2rem 0 .5rem; padding-top: .5rem; border-top: 1px solid var(--ink); }
h3 { font-size: .95rem; margin: 1.1rem 0 .2rem; }
figure { margin: 0; }
figure svg { display: block; width: 100%; height: auto; }
figcaption, .note { font-size: .85rem; color: var(--soft); margin: .4rem 0 0; }
.on-phone { display: none; }
dl { margin: 0; display: grid; grid-template-columns: repeat(auto-fit, minmax(16rem, 1fr)); gap: .5rem 1.6rem; }
dl > div { border-top: 1px solid var(--hair); padding-top: .25rem; }
dt { font-weight: bold; font-size: .85rem; }
dd { margin: 0; overflow-wrap: anywhere; }
ul { margin: .2rem 0; padding-left: 1.2rem; }
li { margin: .25rem 0; overflow-wrap: anywhere; }
.scroll { overflow-x: auto; }
.scroll:focus-visible, input:focus-visible, summary:focus-visible, a:focus-visible, textarea:focus-visible
  { outline: 3px solid #0f4c8a; outline-offset: 2px; }
table { border-collapse: collapse; font-size: .88rem; font-variant-numeric: tabular-nums; }
caption { text-align: left; color: var(--soft); font-size: .85rem; padding-bottom: .3rem; }
th, td { text-align: left; vertical-align: top; padding: .25rem .9rem .25rem 0; border-top: 1px solid var(--hair); }
th { font-weight: normal; }
thead th, .group th { font-weight: bold; }
.group th { padding-top: .8rem; border-top: 0; }
td span { display: block; white-space: nowrap; }
.one { min-width: min(100%, 34rem); } .one span { display: inline-block; min-width: 11em; }
.w { color: var(--soft); }
.w-clear, .w-no { color: var(--ink); font-weight: bold; }
td.moved { background: #fff1dc; box-shadow: inset 3px 0 0 #9a4a00; padding-left: .5rem; }
td.moved .w { color: var(--ink); text-decoration: underline; }
fieldset { border: 1px solid var(--ink); margin: 0 0 1rem; padding: .6rem .9rem .8rem; min-width: 0; }
legend { font-weight: bold; padding: 0 .4rem; }
.choices { display: flex; flex-wrap: wrap; gap: .2rem 1rem; align-items: center; padding: .15rem 0; }
.choices .of { flex-basis: 100%; color: var(--soft); font-size: .85rem; padding-top: .3rem; }
label { display: inline-flex; align-items: center; gap: .45rem; min-height: 2.75rem; cursor: pointer; }
input[type=radio] { width: 1.25rem; height: 1.25rem; margin: 0; accent-color: #1f2328; flex: none; }
#told { background: var(--wash); border-left: 6px solid #9a4a00; padding: .6rem .9rem; margin-bottom: 1rem; }
#told p { margin: .2rem 0; }
#told:empty { padding: 0; margin: 0; border: 0; }
textarea { width: 100%; height: 12rem; font: .8rem/1.4 "DejaVu Sans Mono", monospace; color: var(--ink);
  background: #fff; border: 1px solid var(--soft); white-space: pre; }
summary { cursor: pointer; min-height: 2.75rem; display: list-item; padding-top: .6rem; }
.get { display: inline-block; border: 2px solid var(--ink); padding: .55rem 1rem; color: var(--ink);
  font-weight: bold; text-decoration: none; }
footer { margin-top: 2.5rem; border-top: 1px solid var(--ink); padding-top: .6rem; font-size: .85rem; color: var(--soft); }
footer p { margin: .3rem 0; }
.on-paper { display: none; }
@media screen and (max-width: 840px) {
  .on-page { display: none; } .on-phone { display: block; max-width: 480px; }
  figure { margin: 0 -1rem; } figcaption { margin: .4rem 1rem 0; }
  body { font-size: 1rem; } h1 { font-size: 1.4rem; } .sentence { font-size: 1.1rem; }
}
@media print {
  @page { margin: 9mm; }
  html { font-size: 10px; }
  body { max-width: none; width: 720px; height: 260mm; padding: 0; display: flex; flex-direction: column;
    font-size: 8.6px; line-height: 1.28; }
  header { border-top-width: 3px; padding-top: 3px; }
  .kind, .made, figcaption, .screen { display: none !important; }
  h1 { font-size: 17px; margin: 0; display: inline; } .facts { font-size: 9.5px; }
  .sentence { font-size: 11.5px; line-height: 1.32; margin: 4px 0 0; }
  h2 { font-size: 10px; margin: 6px 0 2px; padding-top: 2px; border-color: var(--soft); break-after: avoid; }
  h3 { font-size: 8.6px; margin: 3px 0 0; } p { margin: 0; }
  .on-paper { display: block; }
  .pictures h2 { display: none; }
  main, .pictures { flex: 1 1 0; min-height: 0; display: flex; flex-direction: column; }
  .pictures { border-top: 1px solid var(--soft); margin-top: 5px; padding-top: 4px; }
  .pictures > section { flex: var(--share) 1 0; min-height: 0; display: flex; }
  figure, .on-page { flex: 1 1 0; min-height: 0; min-width: 0; display: flex; }
  figure svg { flex: 1 1 0; min-height: 0; min-width: 0; width: 100%; height: auto; }
  dl { grid-template-columns: repeat(3, 1fr); gap: 1px 12px; }
  dl > div { border: 0; padding: 0; } dt, dd { display: inline; font-size: 8.6px; }
  dt::after { content: ": "; }
  ul { padding-left: 10px; margin: 0; } li { margin: 0; }
  .two { display: grid; grid-template-columns: 1fr 1fr; gap: 0 16px; }
  .paper-cut > li:nth-child(n+4) { display: none; }
  .crowd .spot { display: none; }
  #told { padding: 2px 6px; margin: 2px 0; border-left-width: 3px; }
  table { font-size: 8.4px; width: 100%; } caption { display: none; }
  th, td { padding: 1px 8px 1px 0; } .group th { padding-top: 2px; }
  td span, .one span { display: inline; margin-right: 6px; }
  footer { margin-top: 5px; padding-top: 2px; font-size: 7.6px; line-height: 1.25; } footer p { margin: 0; }
}
)css";
}

std::string_view page_script() {
  return R"js(
(function () {
  'use strict';
  var data = JSON.parse(document.getElementById('calls').textContent);
  var box = document.getElementById('switches'), told = document.getElementById('told');
  var cells = document.querySelectorAll('[data-cell]');
  function line(name, text) {
    var made = document.createElement(name);
    made.textContent = text;
    return made;
  }
  function list(head, texts) {
    if (!texts.length) return;
    var all = document.createElement('ul');
    texts.forEach(function (text) { all.appendChild(line('li', text)); });
    told.appendChild(line('p', head));
    told.appendChild(all);
  }
  function kind(word) { return 'w w-' + word.split(/[ ,]/)[0]; }
  function show(index) {
    var state = index < 0 ? data.whole : data.removals[index];
    cells.forEach(function (cell) {
      var at = 2 * Number(cell.dataset.cell), spans = cell.querySelectorAll('span');
      spans[0].textContent = state.cells[at];
      spans[1].textContent = state.cells[at + 1];
      spans[1].className = kind(state.cells[at + 1]);
      cell.classList.toggle('moved', kind(state.cells[at + 1]) !== kind(data.whole.cells[at + 1]));
    });
    told.textContent = '';
    document.body.dataset.without = index < 0 ? '' : state.name;
    if (index < 0) return;
    told.appendChild(line('p', 'Without ' + state.name + ':'));
    told.appendChild(line('p', state.sentence));
    if (state.moved.length) list('Words that change:', state.moved);
    else told.appendChild(line('p', 'No word changes.'));
    list('Trouble then:', state.trouble);
  }
  if (data.removals.length) {
    box.hidden = false;
    box.addEventListener('change', function (event) { show(Number(event.target.value)); });
  }
  var wish = /^#without-(\d+)$/.exec(location.hash);
  var input = wish && box.querySelector('input[value="' + wish[1] + '"]');
  if (input) { input.checked = true; show(Number(wish[1])); }
  var link = document.getElementById('get'), text = document.getElementById('readings');
  link.href = URL.createObjectURL(new Blob([text.value], { type: 'text/csv' }));
  link.hidden = false;
}());
)js";
}

}  // namespace pitwright::sheet
