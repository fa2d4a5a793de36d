import { accentOn, isColour, pageGrounds, usualAccent } from './accent.ts'
import { escapeHtml } from './escape-html.ts'
import { dayIn, sayIn, standingCautions, type Say } from '../wording/say.ts'
import type { Language } from '../wording/language.ts'
import { noteHtml } from './note-html.ts'

/** What stands in the student's page. Texts are plain, notes may be formatted (see notes/read-note.ts); pictures and charts are complete strings. */
export interface PageContent {
  /** In which language the page speaks; the coach's own words stay as they are. */
  language: Language
  title: string
  studentName: string
  date: string
  coachName: string
  logo: { dataUri: string; width: number; height: number } | null
  place: string
  message: string
  accent: string
  /** Newest reading of the main numbers, by block. */
  blocks: { headers: string[]; rows: string[][] } | null
  /** What stands first, in the student's words; three at most. */
  cards: PageCard[]
  /** The other findings, behind one "more". */
  moreFindings: PageFinding[]
  /** Units that the numbers rest on and nobody has confirmed; null where all are known. */
  unitNote: string | null
  /** `narrowSvg` is shown where the page is narrow. */
  charts: { title: string; svg: string; narrowSvg: string; text: string }[]
  swings: PageSwing[]
  comparisons: PageClip[]
  talkThroughs: PageClip[]
  plan: { items: PagePlanItem[]; note: string } | null
  nextFocus: string
}

/** One of the three answers a student looks for: what held me back, what changed, what now. */
export interface PageCard {
  title: string
  text: string
  howSure: string
  caution: string | null
}

/** A finding among the details. */
export interface PageFinding {
  sentence: string
  howSure: string
  caution: string | null
}

/** One swing: its clip, its stills, its numbers. */
export interface PageSwing {
  title: string
  caption: string
  numbers: { label: string; value: string }[]
  cues: string[]
  stills: { jpegBase64: string; width: number; height: number; caption: string; alt: string }[]
  clip: PageClip | null
}

/** A clip that plays in the page. */
export interface PageClip {
  title: string
  /** Path beside the page; null in a preview, where only the poster is there. */
  file: string | null
  posterBase64: string | null
  width: number
  height: number
  speed: string
  /** What is seen, for those who can't see it. */
  text: string
  caption: string
  /** Where the clip stands still, and what is seen there. */
  holds: { atSeconds: number; untilSeconds: number; text: string }[]
}

/** One drill of the plan. */
export interface PagePlanItem {
  name: string
  how: string
  dose: string
  watchFor: string
  caution: string
  picture: PageDrillPicture | null
}

/** What a drill looks like. */
export interface PageDrillPicture {
  /** The picture, or a clip's poster. */
  dataUri: string
  width: number
  height: number
  /** Path of the clip beside the page; null for a picture, and in a preview. */
  file: string | null
  alt: string
}

const styles = (accent: { light: string; dark: string }) => `
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

const findingHtml = (finding: PageFinding) => `<div class="finding">
<p>${escapeHtml(finding.sentence)}</p>
<p class="sure">${escapeHtml(finding.howSure)}</p>
${finding.caution ? `<p class="caution">${escapeHtml(finding.caution)}</p>` : ''}
</div>`

const cardHtml = (card: PageCard) => `<section class="card">
<h3>${escapeHtml(card.title)}</h3>
<p>${escapeHtml(card.text)}</p>
${card.howSure ? `<p class="sure">${escapeHtml(card.howSure)}</p>` : ''}
${card.caution ? `<p class="sure">${escapeHtml(card.caution)}</p>` : ''}
</section>`

const clockText = (seconds: number, decimals: 1 | 3): string => {
  const whole = Math.round(seconds * 10 ** decimals) / 10 ** decimals
  const minutes = Math.floor(whole / 60)
  const rest = (whole - 60 * minutes).toFixed(decimals).padStart(3 + decimals, '0')
  return decimals === 3
    ? `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}:${rest}`
    : `${minutes}:${rest}`
}

/** The held moments as a text track (W3C WebVTT: The Web Video Text Tracks Format). */
export const webVtt = (holds: PageClip['holds']): string =>
  `WEBVTT\n\n${holds
    .map(
      (hold) =>
        `${clockText(hold.atSeconds, 3)} --> ${clockText(hold.untilSeconds, 3)}\n${hold.text.replace(/\s*\n\s*/g, ' ').replace(/-->/g, '→')}\n`,
    )
    .join('\n')}`

const clipHtml = (clip: PageClip, say: Say, isPrinted = true) => {
  const poster = clip.posterBase64 ? `data:image/jpeg;base64,${clip.posterBase64}` : null
  const holds = clip.holds.filter((hold) => hold.text)
  // The words are burned in, too, so the track is offered and not switched on.
  const track = holds.length
    ? `<track kind="captions" srclang="${say.language}" label="${escapeHtml(say('page.moments'))}" src="data:text/vtt;charset=utf-8,${encodeURIComponent(webVtt(holds)).replace(/'/g, '%27')}">`
    : ''
  const picture = (extra: string) =>
    poster ? `<img${extra} alt="${escapeHtml(clip.text)}" src="${poster}">` : ''
  return `<figure>
${
  clip.file === null
    ? picture('')
    : `<video controls playsinline preload="metadata" width="${clip.width}" height="${clip.height}"${poster ? ` poster="${poster}"` : ''} aria-label="${escapeHtml(clip.text)}">
<source src="${escapeHtml(clip.file)}" type="video/mp4">${track}
<a href="${escapeHtml(clip.file)}">${escapeHtml(clip.title)}</a>
</video>
${isPrinted ? picture(' class="printed"') : ''}`
}
<figcaption><span class="speed">${escapeHtml(clip.speed)}</span>${escapeHtml(clip.caption)}${
    holds.length
      ? `<ul class="holds">${holds.map((hold) => `<li><span>${clockText(hold.atSeconds, 1)}</span>${escapeHtml(hold.text)}</li>`).join('')}</ul>`
      : ''
  }</figcaption>
</figure>`
}

/** A picture is a thumbnail until it is pressed; then it is as wide as the page. It works without a script. */
const stillHtml = (still: PageSwing['stills'][number]) =>
  `<figure class="still"><label><input type="checkbox"><img src="data:image/jpeg;base64,${still.jpegBase64}" width="${still.width}" height="${still.height}" alt="${escapeHtml(still.alt)}"></label><figcaption>${escapeHtml(still.caption)}</figcaption></figure>`

const swingHtml = (swing: PageSwing, say: Say) => `<section class="swing">
<h3>${escapeHtml(swing.title)}</h3>
${swing.caption ? noteHtml(swing.caption) : ''}
${swing.clip ? (swing.stills.length && swing.clip.file !== null ? `<div class="only-screen">${clipHtml(swing.clip, say, false)}</div>` : clipHtml(swing.clip, say)) : ''}
${swing.stills.length ? `<div class="stills">${swing.stills.map(stillHtml).join('')}</div>` : ''}
${swing.cues.length ? `<ul>${swing.cues.map((c) => `<li>${escapeHtml(c)}</li>`).join('')}</ul>` : ''}
${swing.numbers.length ? `<dl class="swing-numbers">${swing.numbers.map((n) => `<div><dt>${escapeHtml(n.label)}</dt><dd>${escapeHtml(n.value)}</dd></div>`).join('')}</dl>` : ''}
</section>`

interface Chapter {
  id: string
  title: string
  /** In the table of contents. */
  short: string
  body: string
}

const chapterHtml = ({ id, title, body }: Chapter) =>
  `<div class="chapter" id="${id}"><h2>${escapeHtml(title)}</h2>\n${body}</div>`

const drillPictureHtml = ({ dataUri, width, height, file, alt }: PageDrillPicture): string => {
  const picture = (extra: string) =>
    `<img${extra} src="${dataUri}" width="${width}" height="${height}" alt="${escapeHtml(alt)}">`
  if (file === null) return `<figure>${picture('')}</figure>`
  return `<figure><video controls playsinline preload="metadata" width="${width}" height="${height}" poster="${dataUri}" aria-label="${escapeHtml(alt)}">
<source src="${escapeHtml(file)}" type="video/mp4"><a href="${escapeHtml(file)}">${escapeHtml(alt)}</a>
</video>${picture(' class="printed"')}</figure>`
}

const planHtml = (plan: NonNullable<PageContent['plan']>, say: Say): string => `${plan.items
  .map((item) => {
    const rows = [
      [say('page.howMuch'), item.dose],
      [say('page.watchFor'), item.watchFor],
    ].filter(([, text]) => text)
    return `<section class="drill"><h3>${escapeHtml(item.name)}</h3>
${item.how ? noteHtml(item.how) : ''}
${item.picture ? drillPictureHtml(item.picture) : ''}
${rows.length ? `<dl>${rows.map(([name, text]) => `<dt>${escapeHtml(name!)}</dt><dd>${escapeHtml(text!)}</dd>`).join('')}</dl>` : ''}
${item.caution ? `<p class="caution">${escapeHtml(item.caution)}</p>` : ''}</section>`
  })
  .join('\n')}
${plan.note ? noteHtml(plan.note) : ''}
<div class="caution"><ul>${standingCautions(say)
  .map((c) => `<li>${escapeHtml(c)}</li>`)
  .join('')}</ul></div>`

const tableHtml = ({ headers, rows }: NonNullable<PageContent['blocks']>): string =>
  `<table><thead><tr>${headers.map((h) => `<th scope="col">${escapeHtml(h)}</th>`).join('')}</tr></thead><tbody>${rows
    .map(
      (row) =>
        `<tr>${row.map((cell, i) => `<td data-label="${escapeHtml(headers[i] ?? '')}">${escapeHtml(cell)}</td>`).join('')}</tr>`,
    )
    .join('')}</tbody></table>`

const chartHtml = (chart: PageContent['charts'][number]): string =>
  `<figure role="img" aria-label="${escapeHtml(chart.text)}"><div class="chart" aria-hidden="true">${chart.svg}</div><div class="chart narrow" aria-hidden="true">${chart.narrowSvg}</div><figcaption>${escapeHtml(chart.title)}</figcaption></figure>`

/** The student's page: one file, no request to anywhere; only the clips lie beside it. */
export const handOverPage = (content: PageContent): string => {
  const say = sayIn(content.language)
  const chosen = isColour(content.accent) ? content.accent : usualAccent
  const accent = { light: accentOn(chosen, pageGrounds.light), dark: accentOn(chosen, pageGrounds.dark) }
  const more = [
    content.moreFindings.map(findingHtml).join('\n'),
    content.blocks ? tableHtml(content.blocks) : '',
  ].join('\n')
  const hasNumbers = content.cards.length > 0 || content.charts.length > 0 || content.blocks !== null
  const unitNote =
    content.unitNote !== null && hasNumbers ? `<p class="unit-note">${escapeHtml(content.unitNote)}</p>` : ''
  const numbers = [
    content.cards.length > 0 ? '' : unitNote,
    content.charts.map(chartHtml).join('\n'),
    more.trim()
      ? `<details class="more"><summary>${escapeHtml(say('page.more'))}</summary>${more}</details>`
      : '',
    // Paper has nothing to open: the table stands there, the further findings stay on the screen.
    content.blocks ? `<div class="printed">${tableHtml(content.blocks)}</div>` : '',
  ].join('\n')
  const clips = (title: string, list: PageClip[]) =>
    list
      .map((c) => `${c.title === title ? '' : `<h3>${escapeHtml(c.title)}</h3>`}${clipHtml(c, say)}`)
      .join('\n')
  const chapters: Chapter[] = [
    {
      id: 'short',
      title: say('page.inShort'),
      short: say('page.inShort'),
      body: content.cards.length
        ? `<div class="cards">${content.cards.map(cardHtml).join('\n')}</div>${unitNote}`
        : '',
    },
    {
      id: 'before',
      title: say('page.beforeAfter'),
      short: say('page.beforeAfterShort'),
      body: clips(say('page.beforeAfter'), content.comparisons),
    },
    { id: 'lesson', title: say('page.shots'), short: say('page.shotsShort'), body: numbers },
    {
      id: 'talk',
      title: say('page.talk'),
      short: say('page.talkShort'),
      body: clips(say('page.talk'), content.talkThroughs),
    },
    {
      id: 'swings',
      title: say('page.swings'),
      short: say('page.swingsShort'),
      body: content.swings.map((swing) => swingHtml(swing, say)).join('\n'),
    },
    {
      id: 'plan',
      title: say('page.plan'),
      short: say('page.planShort'),
      body: content.plan ? planHtml(content.plan, say) : '',
    },
    {
      id: 'next',
      title: say('page.next'),
      short: say('page.nextShort'),
      body: content.nextFocus ? noteHtml(content.nextFocus) : '',
    },
  ].filter(({ body }) => body.trim() !== '')
  return `<!doctype html>
<html lang="${content.language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; media-src 'self' file: data:; style-src 'unsafe-inline'">
<meta name="referrer" content="no-referrer">
<title>${escapeHtml(content.title)}</title>
<style>${styles(accent)}</style>
</head>
<body>
<header id="top">
${content.logo ? `<img class="logo" src="${content.logo.dataUri}" width="${content.logo.width}" height="${content.logo.height}" alt="${escapeHtml(content.coachName ? say('page.logoOf', { coach: content.coachName }) : say('page.logoOfCoach'))}">` : ''}
<h1>${escapeHtml(content.title)}</h1>
<p>${escapeHtml([content.studentName, dayIn(say, content.date), content.place].filter(Boolean).join(' · '))}</p>
${content.coachName ? `<p>${escapeHtml(say('page.from', { coach: content.coachName }))}</p>` : ''}
</header>
${
  chapters.length > 1
    ? `<nav aria-label="${escapeHtml(say('page.onThisPage'))}"><ul>${chapters.map(({ id, short }) => `<li><a href="#${id}">${escapeHtml(short)}</a></li>`).join('')}<li><a href="#top" aria-label="${escapeHtml(say('page.backToTop'))}">↑ ${escapeHtml(say('page.top'))}</a></li></ul></nav>`
    : ''
}
<main>
<div class="message">${noteHtml(content.message)}</div>
${chapters.map(chapterHtml).join('\n')}
</main>
<footer>${escapeHtml(say('page.footer'))}</footer>
</body>
</html>
`
}
