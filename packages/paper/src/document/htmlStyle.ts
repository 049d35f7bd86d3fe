/** One column of calm type; every meaning that colour carries is also said in words or drawn as a line. */
export const PAPER_STYLE = `
:root { color-scheme: light; --ink: #1c2421; --soft: #55615c; --line: #ccd4d0; --deep: #17483b; --wash: #f3f6f4; --warn: #8a4b00; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 46rem; padding: 2.5rem 1.5rem 3rem; color: var(--ink); background: #fff;
  font: 1rem/1.55 Inter, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif; }
body.landscape { max-width: 66rem; }
.letterhead { border-bottom: 2px solid var(--deep); padding-bottom: .75rem; margin-bottom: 2rem; color: var(--soft); font-size: .875rem; }
.letterhead p { margin: 0; }
.letterhead .firm { color: var(--deep); font-size: 1.125rem; font-weight: 600; }
h1, h2, h3 { line-height: 1.25; text-wrap: balance; break-after: avoid; }
h1 { font-size: 2rem; margin: 0 0 .25rem; letter-spacing: -.015em; }
h2 { font-size: 1.25rem; margin: 2.25rem 0 .5rem; color: var(--deep); }
h3 { font-size: 1rem; margin: 1.5rem 0 .5rem; }
p { margin: .5rem 0; }
.subtitle { color: var(--soft); margin: 0 0 1.5rem; }
.lead { font-size: 1.125rem; }
.small { font-size: .875rem; color: var(--soft); }
.banner { border: 2px dashed var(--warn); padding: .6rem .9rem; margin: 0 0 1.5rem; font-size: .9375rem; }
.banner strong { color: var(--warn); }
.details { margin: 1rem 0; border-top: 1px solid var(--line); }
.details div { display: grid; grid-template-columns: minmax(9rem, 30%) 1fr; gap: 1rem; padding: .35rem 0; border-bottom: 1px solid var(--line); }
.details dt { color: var(--soft); }
.details dd { margin: 0; }
.counts { display: grid; grid-template-columns: repeat(auto-fit, minmax(7rem, 1fr)); gap: 1rem 1.5rem; list-style: none; padding: 0; margin: 1.25rem 0; }
.counts li { color: var(--soft); font-size: .875rem; line-height: 1.35; }
.counts strong { display: block; color: var(--ink); font-size: 1.75rem; line-height: 1.2; font-variant-numeric: tabular-nums; }
.scroll { overflow-x: auto; margin: 1rem 0; }
table { border-collapse: collapse; width: 100%; font-size: .875rem; line-height: 1.4; }
caption { text-align: left; color: var(--soft); padding-bottom: .4rem; }
th, td { text-align: left; vertical-align: top; padding: .4rem .75rem .4rem 0; border-bottom: 1px solid var(--line); overflow-wrap: anywhere; }
th:last-child, td:last-child { padding-right: 0; }
thead th { border-bottom: 1.5px solid var(--ink); font-weight: 600; vertical-align: bottom; overflow-wrap: normal; }
tbody th { font-weight: 600; }
.right { text-align: right; font-variant-numeric: tabular-nums; }
tr.strong td { font-weight: 600; }
tr.struck del { color: var(--soft); }
tr { break-inside: avoid; }
.caution, .note { margin: 1.25rem 0; padding: .75rem 1rem; background: var(--wash); border-left: 4px solid var(--line); break-inside: avoid; }
.caution { border-left-color: var(--warn); }
.label { font-weight: 600; margin: 0 0 .25rem; }
.caution .label::before { content: '\\25B2\\00A0'; color: var(--warn); }
.caution ul, .note p { margin: 0; }
ul { padding-left: 1.25rem; }
figure { margin: 1.25rem 0; break-inside: avoid; }
figure svg { width: 100%; height: auto; }
figure.diagram svg { width: auto; max-width: 100%; }
figcaption { color: var(--soft); font-size: .875rem; }
footer { margin-top: 2.5rem; border-top: 1px solid var(--line); color: var(--soft); font-size: .8125rem; }
@media screen and (max-width: 40rem) { body { padding: 1.25rem 1rem 2rem; } }
@media print { body { max-width: none; padding: 0; font-size: 10pt; } .scroll { overflow: visible; } thead { display: table-header-group; } }`;
