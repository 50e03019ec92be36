"""How pages look: on a phone, on a screen, on Letter and A4."""

STYLE = """
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0 auto;padding:1rem;max-width:52rem;font:16px/1.45 Arial,Helvetica,"Liberation Sans",sans-serif;
color:#000;background:#fff;overflow-wrap:break-word}
h1{font-size:1.5rem;line-height:1.2;margin:.2rem 0 .6rem}
h2{font-size:1.2rem;margin:2rem 0 .6rem;padding-top:.4rem;border-top:3px solid #000}
h3{font-size:1rem;margin:1.3rem 0 .4rem}
p,ul,dl{margin:.5rem 0}
ul{padding-left:1.2rem}
.verdict{border:4px solid #000;padding:.6rem .8rem;font-size:1.25rem;font-weight:bold;line-height:1.3}
.note{color:#333;font-size:.9rem}
.wide{overflow-x:auto;margin:.6rem 0 1rem}
table{border-collapse:collapse;width:100%;font-size:.86rem;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:bold;padding:.2rem 0;font-size:.95rem}
th,td{border-bottom:1px solid #999;padding:.22rem .5rem .22rem 0;text-align:left;vertical-align:top;font-weight:normal}
thead th{border-bottom:2px solid #000;font-weight:bold}
.number{text-align:right;white-space:nowrap}
thead .number,.loose{white-space:normal}
.codes{font-size:.82rem}
td.number,th.number{padding-left:.5rem}
.marked th,.marked td{font-weight:bold}
dl div{display:flex;gap:.6rem;border-bottom:1px solid #bbb;padding:.2rem 0}
dt{flex:0 0 10rem;color:#333}
dd{margin:0;flex:1;min-width:0;overflow-wrap:anywhere}
figure{margin:1rem 0 1.4rem}
figure svg{display:block;width:100%;max-width:44rem;height:auto;margin:0 auto}
figcaption{font-size:.88rem;color:#222;margin-top:.4rem}
.report{counter-reset:figure table}
.report figcaption::before{counter-increment:figure;content:"Figure " counter(figure) ". ";font-weight:bold}
.report main>section:not(#working) caption::before{counter-increment:table;content:"Table " counter(table) ". "}
pre{white-space:pre-wrap;font-size:.78rem;line-height:1.35;border:1px solid #999;padding:.5rem}
@media (min-width:700px){dl.facts{columns:2;column-gap:2rem}}
nav ol{columns:2;font-size:.9rem;padding-left:0;list-style:none}
a{color:#000}
math{font-size:1.05em}
mfrac>*{math-depth:0;font-size:.92em;padding:.12em .15em}
msup>*:last-child{font-size:.78em}
ol.working{padding-left:1.6rem}
.answer{font-weight:bold}
ol.working p{margin:.2rem 0}
code{font-size:.86rem;overflow-wrap:anywhere}
#working .verdict{font-size:1rem;border-width:2px;padding:.25rem .6rem}
.terms{columns:2;font-size:.9rem}
.pair{display:grid;grid-template-columns:1fr 1fr;gap:0 1rem;align-items:start}
.pair>div,.grid>figure{min-width:0}
.sketch svg{display:block;width:100%;height:auto}
.flow{columns:2;column-gap:1.2rem}
.flow h3,.flow li{break-inside:avoid}
.flow h3{break-after:avoid}
.grid{display:grid;grid-template-columns:1fr 1fr;gap:.6rem 1rem}
.grid figure{margin:0}
pre.formula{border:0;padding:0 0 0 1rem;margin:.3rem 0}
h3 small{font-weight:normal;color:#444}
.blank dt{flex-basis:14rem}
.blank dd{min-height:1.9rem;border-bottom:1px solid #000}
.blank div{border:0;padding:.35rem 0}
.ruled{height:2.2rem;border-bottom:1px solid #000}
.seal{border:1px solid #000;height:9rem;width:14rem;max-width:100%;padding:.3rem;color:#333;font-size:.85rem}
@media (max-width:720px){
.pair,.grid{grid-template-columns:1fr}
.flow{columns:1}
body{padding:.7rem}
nav ol{columns:1}
dt{flex-basis:8rem}
table.stack thead{position:absolute;left:-9999px}
table.stack,table.stack tbody,table.stack tr,table.stack td,table.stack th{display:block;text-align:left}
table.stack caption{display:block}
table.stack tr{border-bottom:2px solid #000;padding:.3rem 0}
table.stack th,table.stack td{border:0;padding:.05rem 0;white-space:normal}
td,th,caption{overflow-wrap:anywhere}
table.stack tbody th{font-weight:bold}
table.stack td::before{content:attr(data-label) ": ";color:#444;font-weight:normal}
.blank div{display:block}
.terms{columns:1}
}
@page{margin:15mm 14mm 17mm;font:7.5pt Arial,Helvetica,"Liberation Sans",sans-serif;color:#333}
@media print{
body{max-width:none;padding:0;font-size:10.5pt}
h2{margin-top:0}
h2,h3,caption{break-after:avoid}
.report section{margin-top:1.4rem}
.report section.apart{break-before:page;margin-top:0}
p,li{orphans:3;widows:3}
figure,tr,.keep,dl div,table.whole{break-inside:avoid}
tbody tr:last-child{break-before:avoid}
thead{display:table-header-group;break-after:avoid}
tbody tr:first-child{break-before:avoid}
.wide{overflow:visible}
table{font-size:8.6pt}
.report figure{margin:.4rem 0 .7rem}
figure svg{max-height:4.3in;max-width:6.6in}
figure.half svg{max-height:3.4in}
#review{break-before:page}
#cautions{break-inside:avoid}
.ruled{height:1.7rem}
.report .grid{gap:.2rem .8rem}
.report .grid figure{margin:0}
.report .grid svg{max-height:none}
.report section.first{break-after:page}
header h1{font-size:14pt;margin:0 0 2pt}
header dl.facts,#verdict{font-size:8.6pt;line-height:1.22}
header dl.facts{margin:0}
header dt{flex-basis:7.4rem}
header dl div{padding:.6pt 0}
#verdict h2{font-size:10pt;margin:3pt 0 2pt;padding-top:1pt;border-top-width:1.5pt}
#verdict h3{font-size:8.8pt;margin:3pt 0 1pt}
#verdict p,#verdict ul{margin:2pt 0}
#verdict .verdict{font-size:11.5pt;border-width:2pt;padding:3pt 6pt;line-height:1.2}
#verdict table{font-size:8pt}
#verdict .wide{margin:2pt 0}
#verdict th,#verdict td{padding:.8pt 4pt .8pt 0}
#verdict .note{font-size:7.8pt}
.sketch svg{max-height:2.85in;width:auto;max-width:100%;margin:0 auto}
.pair{grid-template-columns:46% 1fr}
.answer{font-size:10.5pt}
pre{columns:2}
pre.formula{columns:1}
.codes{font-size:8pt;columns:2}
figure.tall svg{max-height:6.6in}
#working h3+p,#working .verdict{break-after:avoid}
ol.working{columns:2;column-gap:20pt;font-size:8.4pt}
ol.working .terms{columns:1;margin:1pt 0;font-size:8pt}
ol.working .wide{margin:3pt 0}
ol.working caption{font-size:8pt}
ol.working table{font-size:6.8pt}
ol.working .number{padding-left:2pt;padding-right:1pt}
ol.working .note,code{font-size:7.4pt}
ol.working math{font-size:8.6pt}
dl.facts{columns:2;column-gap:2rem}
nav{break-after:avoid}
nav ol{font-size:9pt}
a{text-decoration:none}
}
.card{max-width:54rem}
.card h1{margin:0 0 .3rem}
.card h2{border-top-width:2px;margin:.8rem 0 .3rem;padding-top:.3rem}
.card .big{border:4px solid #000;padding:.5rem .8rem;margin:.5rem 0}
.card .big p{margin:0;font-weight:bold}
.card .big p:first-child{font-size:1.9rem;line-height:1.15}
.wall{font-size:1.17rem;line-height:1.3}
.wall h2{font-size:1.25rem}
.wall ul,.wall ol,.wall p{margin:.3rem 0}
.wall ol{padding-left:1.6rem}
.face{display:grid;grid-template-columns:248fr 300fr;gap:1rem;align-items:start}
.face figure{margin:0}
.face dl{margin:0}
.face dl div{display:block;padding:.3rem 0}
.face dl div:last-child{border:0}
.face dt,.face dd{display:inline}
.face strong{font-size:1.35em}
.face strong::after{content:" "}
.face dt{font-weight:bold;text-transform:uppercase;color:#000}
.lists{font-size:1.17rem}
.card .columns{columns:2;column-gap:1.4rem}
.card .columns section{break-inside:avoid;padding-bottom:.5rem}
.card .columns h2{margin-top:0}
.card .columns dl.facts{columns:1}
.card .columns dt{flex-basis:7.2rem}
.card li{margin:.1rem 0}
.card .boxes li{list-style:none;position:relative;padding-left:.5rem}
.card .boxes li::before{content:"";position:absolute;left:-1.1rem;top:.2em;width:.85em;height:.85em;
border:1px solid #000}
@media (max-width:600px){
.card .columns{columns:1}
.face{grid-template-columns:1fr}
.card .big p:first-child{font-size:1.6rem}
}
@page card{margin:10mm;@bottom-left{content:none}@bottom-center{content:none}@bottom-right{content:none}}
@media print{
body.card{page:card;font-size:9.6pt;line-height:1.22}
.card h2{margin:5pt 0 1pt;padding-top:2pt}
.card p,.card ul,.card dl{margin:2pt 0}
.wall,.lists{break-after:page;font-size:14.2pt;line-height:1.17}
.card h1{font-size:18pt}
.card .big{border-width:4pt;margin:5pt 0;padding:5pt 8pt}
.card .big p:first-child{font-size:28pt}
.card .stop p:first-child{font-size:42pt;line-height:1}
.wall h2,.lists h2{font-size:15pt}
.face{grid-template-columns:248pt 1fr;gap:9pt}
.face svg{width:248pt;max-height:none}
.face dl div{padding:2.4pt 0}
.lists table{font-size:14pt}
.lists td,.lists th{padding:3pt 4pt 3pt 0}
.sizes h2{font-size:11pt}
.sizes table{font-size:9.2pt}
.card .wide{margin:2pt 0}
.sizes th,.sizes td{padding:.5pt 4pt .5pt 0}
.card .columns section{padding-bottom:3pt}
.card li{margin:0}
.sizes ul{padding-left:11pt}
.card dl div{padding:1pt 0}
.card .columns dl.facts{columns:1}
.card .columns dt{flex-basis:80pt}
}
"""
