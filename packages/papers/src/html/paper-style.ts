/** The look of a paper on a screen and, by its own rules, in print. Nothing is fetched from anywhere. */
export const PAPER_STYLE = `
:root{--ink:#1d2321;--soft:#4e5651;--hair:#a9a493;--copper:#9a4a1f;color:var(--ink);background:#faf8f3;color-scheme:light}
*{box-sizing:border-box}
body{margin:0 auto;padding:2rem 1.25rem 3rem;max-width:52rem;font:15px/1.5 "DejaVu Sans",Verdana,system-ui,sans-serif;overflow-wrap:anywhere}
main.wide,body.wide{max-width:80rem}
body.notice{font-size:18px}
h1{font-size:1.5em;line-height:1.2;margin:.2em 0 .7em}
h2{font-size:1.1em;color:var(--copper);margin:1.6em 0 .5em}
h3{font-size:1em;margin:1.2em 0 .4em}
p,ul,ol{margin:.6em 0}
li{margin:.3em 0}
.subject,.aside,caption,figcaption,.note,.source,footer{color:var(--soft);font-size:.86em}
.lead{font-weight:bold;font-size:1.1em}
.strong li{font-weight:bold}
table{border-collapse:collapse;width:100%;font-size:.92em;margin:1em 0;font-variant-numeric:tabular-nums}
caption{text-align:left;padding:.3em 0}
th{text-align:left;border-bottom:1.5px solid var(--ink);padding:.3em .4em;font-size:.9em;vertical-align:bottom}
td{border-bottom:1px solid var(--hair);padding:.35em .4em;vertical-align:top}
.right{text-align:right}
.write td{height:2.6em;border-left:1px solid var(--hair)}
.write td:first-child{border-left:0}
figure{margin:1em 0;text-align:center}
img{max-width:100%;height:auto}
.photos{display:grid;grid-template-columns:1fr 1fr;gap:1em;margin:1em 0}
.photos.across4{grid-template-columns:repeat(4,1fr)}
.photos figure{margin:0;text-align:left;min-width:0}
.photos img{display:block;width:auto;max-height:22rem}
.across4 img{max-height:11rem}
.cautions{border:1px solid var(--ink);border-left:4px solid var(--ink);padding:.5em 1em;margin:1.1em 0}
.check{list-style:none;padding:0}
.check li{padding-left:1.8em;text-indent:-1.8em}
.check li::before{content:"☐";display:inline-block;width:1.8em;text-indent:0}
.check .note{display:block;text-indent:0}
dl.fields{display:grid;grid-template-columns:auto 1fr;gap:.6em .8em;margin:.8em 0}
dl.fields dt{color:var(--soft)}
dl.fields dd{margin:0;font-weight:bold}
dd.blank,.line{border-bottom:1px solid var(--soft);min-height:1.5em}
.signature{display:grid;grid-template-columns:2fr 2fr 1fr;gap:.2em 1em;margin:1.8em 0 .8em}
.columns{display:grid;gap:0 1.6em}
footer{border-top:1px solid var(--hair);margin-top:2.5em;padding-top:.6em}
footer p{margin:.25em 0}
.scroll{overflow-x:auto}
.whole{white-space:nowrap}
td strong{overflow-wrap:break-word}
@media screen{th{overflow-wrap:break-word}}
@media screen and (max-width:60rem){td{overflow-wrap:break-word}}
@media screen and (max-width:40rem){dl.fields{grid-template-columns:1fr;gap:0}dl.fields dt{margin-top:.6em}}
@media (max-width:40rem){.columns{display:block}.photos.across4{grid-template-columns:1fr 1fr}}
@media print{@page{size:A4;margin:18mm}body{padding:0;max-width:none;background:#fff;font-size:10pt}
body.notice{font-size:12pt}h2,h3,caption{break-after:avoid}tr,figure,.cautions,.check li,.signature{break-inside:avoid}thead{display:table-header-group}.scroll{overflow:visible}}
`;
