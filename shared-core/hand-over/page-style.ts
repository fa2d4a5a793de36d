import { pageGrounds } from './accent.ts'

/** The page's style sheet, for light and dark, screens and paper. @param accent the coach's colour, fit for each ground */
export const pageStyle = (accent: { light: string; dark: string }) => `
:root{color-scheme:light dark;--ground:${pageGrounds.light};--ink:#1c2226;--soft:#566067;--rule:#dcd8cc;--panel:#f1eee5;--accent:${accent.light};--tone-0:#5f6c74;--tone-1:#2f7f79;--tone-2:#a0603a;--tone-3:#5a5fa8;--tone-4:#8a4f7d;--tone-5:#7a7a35}
@media screen and (prefers-color-scheme:dark){:root{--accent:${accent.dark};--ground:${pageGrounds.dark};--ink:#ecebe5;--soft:#a9b2b8;--rule:#343d43;--panel:#1f262a;--tone-0:#9aa7af;--tone-1:#62b8b0;--tone-2:#d99467;--tone-3:#9ea3ea;--tone-4:#cf92c1;--tone-5:#bcbc6b}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;background:var(--ground);color:var(--ink);font:16.5px/1.48 "Source Sans 3",system-ui,-apple-system,"Segoe UI",Roboto,sans-serif;font-variant-numeric:tabular-nums;overflow-wrap:break-word}
html{scroll-padding-top:3.6rem}
main,header,nav ul,footer{max-width:44rem;margin:0 auto;padding:0 1.1rem}
header{padding-top:2rem;padding-bottom:.2rem}
header p{margin:.15rem 0;color:var(--soft)}
.logo{display:block;max-width:10rem;max-height:4rem;width:auto;height:auto;margin:0 0 1rem}
@media screen and (prefers-color-scheme:dark){.logo{background:#fff;border-radius:6px;padding:.35rem .5rem}}
h1{font-size:1.75rem;line-height:1.2;margin:0 0 .3rem;letter-spacing:-.01em}
nav{position:sticky;top:0;z-index:2;background:var(--ground);border-bottom:1px solid var(--rule)}
nav ul{display:flex;overflow-x:auto;scrollbar-width:none;list-style:none;padding-left:.5rem;padding-right:.5rem}
nav a{display:block;min-height:44px;line-height:44px;padding:0 .6rem;white-space:nowrap;color:var(--ink);text-decoration:none}
nav a:hover,nav a:focus-visible{text-decoration:underline}
h2{font-size:1.25rem;line-height:1.3;margin:1.7rem 0 .7rem;padding-top:.7rem;border-top:2px solid var(--accent)}
.cards{display:grid;gap:.7rem}
.card{background:var(--panel);border-radius:8px;padding:.75rem .95rem;border-left:4px solid var(--accent)}
.card h3{margin:0 0 .2rem}
.card p{margin:.1rem 0}
.sure{color:var(--soft);font-size:.95rem}
h3{font-size:1.05rem;line-height:1.35;margin:1.3rem 0 .4rem}
p{margin:.5rem 0 .8rem}
.message{font-size:1.08rem;margin-top:1rem}
figure{margin:.6rem 0 .8rem}
.swing{padding:.1rem 0 .4rem}
.swing video,.swing .only-screen img{max-height:56vh}
.swing ul{margin:.4rem 0}
.swing-numbers{font-size:.92rem}
.swing+.swing{border-top:1px solid var(--rule)}
.stills{display:flex;flex-wrap:wrap;gap:.5rem}
.still{position:relative;margin:0;max-width:100%}
.still input{position:absolute;opacity:0;left:0;top:0;width:44px;height:44px;margin:0}
.still label{display:block;cursor:zoom-in}
.still figcaption{font-size:.8rem;line-height:1.25;margin-top:.2rem}
@media screen{
.still img{width:6.4rem;height:4.4rem;object-fit:cover}
.still figcaption{max-width:6.4rem}
.still input:checked+img{width:42rem;max-width:100%;height:auto;max-height:82vh;object-fit:contain;cursor:zoom-out}
.still input:focus-visible+img{outline:3px solid var(--accent);outline-offset:2px}
}
.swing-numbers{display:flex;flex-wrap:wrap;gap:.2rem 1.2rem}
.swing-numbers>div{display:flex;gap:.4rem}
figure img,figure video{display:block;width:100%;height:auto;max-height:82vh;object-fit:contain;border-radius:6px;background:#0d1012}
figcaption{margin-top:.45rem;color:var(--soft);font-size:.95rem;line-height:1.45}
.speed{display:inline-block;border:1px solid var(--rule);border-radius:99px;padding:0 .6rem;margin-right:.45rem;color:var(--ink)}
.holds{display:flex;flex-wrap:wrap;gap:0 .9rem;margin:.15rem 0 0;padding:0;list-style:none;font-size:.88rem}
.holds span{color:var(--ink);margin-right:.5rem}
.finding{margin:0 0 1.1rem;padding:.05rem 0 .05rem .9rem;border-left:4px solid var(--accent)}
.finding p{margin:.1rem 0 .3rem}
.finding .sure{color:var(--soft);font-size:.95rem}
.caution,.finding p.caution{background:var(--panel);border-radius:6px;padding:.6rem .8rem;margin:.6rem 0}
.caution ul{margin:0}
details{font-size:.95rem;color:var(--soft)}
summary{cursor:pointer;padding:.3rem 0}
.unit-note{margin:.8rem 0;font-size:1rem;color:var(--ink)}
.more{margin:1.2rem 0;font-size:1rem;color:var(--ink)}
.more>summary{font-weight:600;padding:.7rem .8rem;background:var(--panel);border-radius:6px;margin-bottom:1rem}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.15rem .9rem;margin:.5rem 0}
dt{color:var(--soft)}dd{margin:0}
table{border-collapse:collapse;width:100%;font-size:.95rem;margin:1.4rem 0}
th,td{text-align:right;padding:.35rem .5rem;border-bottom:1px solid var(--rule)}
th:first-child,td:first-child,th:nth-child(2),td:nth-child(2){text-align:left}
td{white-space:nowrap}td:first-child{white-space:normal}
th{color:var(--soft);font-weight:600;vertical-align:bottom}
.chart svg{display:block;width:100%;height:auto}
.chart.narrow{display:none}
ol,ul{padding-left:1.2rem}
footer{margin-top:2rem;padding-bottom:2rem;color:var(--soft);font-size:.9rem}
.printed{display:none}
@media screen and (min-width:64rem){
main,header,nav ul,footer{max-width:76rem}
main{columns:2;column-gap:2.6rem}
.message,.card,.swing,.drill,figure,.finding,.caution{break-inside:avoid}
h2,h3{break-after:avoid}
}
@media screen and (max-width:38rem){
.chart{display:none}.chart.narrow{display:block}
table,tbody,tr{display:block}
thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
tr{padding:.7rem .85rem;margin:0 0 .7rem;background:var(--panel);border-radius:6px}
td{display:flex;justify-content:space-between;gap:1rem;border:0;padding:.1rem 0;text-align:right}
td::before{content:attr(data-label);color:var(--soft);font-weight:400}
td:first-child{font-weight:600;font-size:1.05rem;text-align:left}
td:first-child::before{content:none}
}
@page{margin:16mm 15mm}
@media print{
:root{--ground:#fff;--ink:#000;--soft:#444}
body{font-size:10.5pt;line-height:1.42;background:#fff;color:#000}
main,header,footer{max-width:none;padding:0}
header{padding-top:0}
h1{font-size:19pt}.logo{max-height:1.6cm}h2{font-size:13pt;margin-top:1.4rem}h3{font-size:11pt;margin-top:1rem}
h2,h3,.swing>p{break-after:avoid}
dl{break-inside:avoid}
footer{margin:.8rem 0 0;padding:0;break-before:avoid}
figure,.finding,.caution,tr,.drill,.chart,.swing,footer{break-inside:avoid}
thead{display:table-header-group}
figure video,.more,.holds,.only-screen,nav{display:none}
.cards{display:block}.card{break-inside:avoid;margin-bottom:.5rem;background:none}
.still input{display:none}
.printed{display:block!important}
figure img,figure img.printed{max-height:8.5cm;width:auto;max-width:100%}
.drill figure img,.drill figure img.printed{max-height:5.5cm}
.stills{display:flex;flex-wrap:wrap;gap:.3cm .5cm}
.stills figure{margin:0;max-width:8.5cm}
.chart svg{max-height:8cm}
p,li{orphans:3;widows:3}
}
`
