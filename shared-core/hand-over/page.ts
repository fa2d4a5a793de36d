/** What stands in the student's page. Texts are plain; pictures and charts are complete strings. */
export interface PageContent {
  title: string
  studentName: string
  date: string
  coachName: string
  place: string
  message: string
  accent: string
  /** Newest reading of the main numbers, by block. */
  blocks: { headers: string[]; rows: string[][] } | null
  findings: PageFinding[]
  charts: { title: string; svg: string; text: string }[]
  swings: PageSwing[]
  comparisons: PageClip[]
  talkThroughs: PageClip[]
  plan: { items: PagePlanItem[]; note: string } | null
  nextFocus: string
}

export interface PageFinding {
  sentence: string
  howSure: string
  howWeKnow: { data: string; method: string; source: string } | null
  caution: string | null
}

export interface PageSwing {
  title: string
  caption: string
  numbers: { label: string; value: string }[]
  cues: string[]
  stills: { jpegBase64: string; width: number; height: number; caption: string; alt: string }[]
  clip: PageClip | null
}

export interface PageClip {
  title: string
  /** Path beside the page. */
  file: string
  posterBase64: string | null
  width: number
  height: number
  speed: string
  /** What is seen, for those who can't see it. */
  text: string
  caption: string
}

export interface PagePlanItem {
  name: string
  how: string
  dose: string
  watchFor: string
  caution: string
}

const escapes: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
}
export const escapeHtml = (text: string): string => text.replace(/[&<>"']/g, (c) => escapes[c]!)

/** Plain text as paragraphs; a line break stays a line break. */
const paragraphs = (text: string): string =>
  text
    .split(/\n\s*\n/)
    .map((part) => part.trim())
    .filter(Boolean)
    .map((part) => `<p>${escapeHtml(part).replace(/\n/g, '<br>')}</p>`)
    .join('\n')

/** The cautions that go with any practice (common practice; see the plan's own cautions beside each drill). */
export const standingCautions = [
  'Warm up before you practise, moving rather than stretching in place.',
  'Stop if something hurts. For an injury, or pain that comes back, see a medical professional before you go on.',
  'Look around before every swing: nobody and nothing within reach of the club. Follow the rules of the place.',
  'Build up slowly, and rest between sets. This plan supports your lessons; it does not replace medical or licensed advice.',
]

const isColour = (text: string): boolean => /^#[0-9a-f]{6}$/i.test(text)

const styles = (accent: string) => `
:root{color-scheme:light dark;--ground:#fbfaf6;--ink:#1c2226;--soft:#5a646b;--rule:#dcd8cc;--panel:#f1eee5;--accent:${accent}}
@media (prefers-color-scheme:dark){:root{--ground:#14181b;--ink:#ecebe5;--soft:#a3adb3;--rule:#30383d;--panel:#1c2226}}
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--ground);color:var(--ink);font:17px/1.55 "Source Sans 3",system-ui,-apple-system,"Segoe UI",Roboto,sans-serif;font-variant-numeric:tabular-nums}
main,header{max-width:44rem;margin:0 auto;padding:0 1.1rem}
header{padding-top:2.2rem;padding-bottom:.4rem}
header p{margin:.15rem 0;color:var(--soft)}
h1{font-size:1.75rem;line-height:1.2;margin:0 0 .3rem;letter-spacing:-.01em}
h2{font-size:1.2rem;margin:2.6rem 0 .8rem;padding-top:.9rem;border-top:2px solid var(--accent)}
h3{font-size:1.05rem;margin:1.6rem 0 .4rem}
p{margin:.5rem 0 .8rem}
.message{font-size:1.08rem}
figure{margin:.9rem 0 1.2rem}
figure img,figure video{display:block;width:100%;height:auto;max-height:82vh;object-fit:contain;border-radius:6px;background:#0d1012}
figcaption{margin-top:.4rem;color:var(--soft);font-size:.95rem}
.speed{display:inline-block;border:1px solid var(--rule);border-radius:99px;padding:0 .6rem;margin-right:.4rem;color:var(--ink)}
.finding{margin:0 0 1rem;padding:.1rem 0 .1rem .9rem;border-left:4px solid var(--accent)}
.finding .sure{color:var(--soft);margin:.1rem 0 .3rem}
.caution{background:var(--panel);border-radius:6px;padding:.6rem .8rem;margin:.5rem 0}
details{color:var(--soft);font-size:.93rem}
summary{cursor:pointer}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.15rem .9rem;margin:.5rem 0}
dt{color:var(--soft)}dd{margin:0}
.scroll{overflow-x:auto}
table{border-collapse:collapse;width:100%;font-size:.95rem}
th,td{text-align:right;padding:.35rem .5rem;border-bottom:1px solid var(--rule);white-space:nowrap}
th:first-child,td:first-child,th:nth-child(2),td:nth-child(2){text-align:left}
td:first-child{white-space:normal}
th{color:var(--soft);font-weight:600}
.chart{background:#fbfaf6;border-radius:6px;overflow:hidden}
.chart svg{display:block;width:100%;height:auto}
ol,ul{padding-left:1.2rem}
footer{max-width:44rem;margin:2.5rem auto;padding:0 1.1rem 2rem;color:var(--soft);font-size:.9rem}
@media print{body{font-size:11pt;background:#fff;color:#000}h2{break-after:avoid}figure,.finding,.caution,tr{break-inside:avoid}video{display:none}.printed{display:block!important}figure img{max-height:11cm;width:auto;max-width:100%}details{display:none}}
.printed{display:none}
`

const findingHtml = (finding: PageFinding) => `<div class="finding">
<p>${escapeHtml(finding.sentence)}</p>
<p class="sure">How sure: ${escapeHtml(finding.howSure)}</p>
${finding.caution ? `<p class="caution">${escapeHtml(finding.caution)}</p>` : ''}
${
  finding.howWeKnow
    ? `<details><summary>How do we know?</summary><p>Data: ${escapeHtml(finding.howWeKnow.data)}.<br>Method: ${escapeHtml(finding.howWeKnow.method)}.<br>Source: ${escapeHtml(finding.howWeKnow.source)}</p></details>`
    : ''
}
</div>`

const clipHtml = (clip: PageClip) => `<figure>
<video controls playsinline muted preload="metadata" width="${clip.width}" height="${clip.height}"${clip.posterBase64 ? ` poster="data:image/jpeg;base64,${clip.posterBase64}"` : ''} aria-label="${escapeHtml(clip.text)}">
<source src="${escapeHtml(clip.file)}" type="video/mp4">
<a href="${escapeHtml(clip.file)}">${escapeHtml(clip.title)}</a>
</video>
${clip.posterBase64 ? `<img class="printed" alt="${escapeHtml(clip.text)}" src="data:image/jpeg;base64,${clip.posterBase64}">` : ''}
<figcaption><span class="speed">${escapeHtml(clip.speed)}</span>${escapeHtml(clip.caption)}</figcaption>
</figure>`

const swingHtml = (swing: PageSwing) => `<section>
<h3>${escapeHtml(swing.title)}</h3>
${swing.caption ? paragraphs(swing.caption) : ''}
${swing.numbers.length ? `<dl>${swing.numbers.map((n) => `<dt>${escapeHtml(n.label)}</dt><dd>${escapeHtml(n.value)}</dd>`).join('')}</dl>` : ''}
${swing.cues.length ? `<ul>${swing.cues.map((c) => `<li>${escapeHtml(c)}</li>`).join('')}</ul>` : ''}
${swing.clip ? clipHtml(swing.clip) : ''}
${swing.stills.map((s) => `<figure><img src="data:image/jpeg;base64,${s.jpegBase64}" width="${s.width}" height="${s.height}" alt="${escapeHtml(s.alt)}"><figcaption>${escapeHtml(s.caption)}</figcaption></figure>`).join('\n')}
</section>`

const section = (title: string, body: string) => (body.trim() ? `<h2>${escapeHtml(title)}</h2>\n${body}` : '')

/** The student's page: one file, no request to anywhere; only the clips lie beside it. */
export const handOverPage = (content: PageContent): string => {
  const accent = isColour(content.accent) ? content.accent : '#2f7f79'
  const plan = content.plan
    ? `${content.plan.items
        .map(
          (item) => `<section><h3>${escapeHtml(item.name)}</h3>
${item.how ? paragraphs(item.how) : ''}
<dl>${item.dose ? `<dt>How much</dt><dd>${escapeHtml(item.dose)}</dd>` : ''}${item.watchFor ? `<dt>Watch for</dt><dd>${escapeHtml(item.watchFor)}</dd>` : ''}</dl>
${item.caution ? `<p class="caution">${escapeHtml(item.caution)}</p>` : ''}</section>`,
        )
        .join('\n')}
${content.plan.note ? paragraphs(content.plan.note) : ''}
<div class="caution"><ul>${standingCautions.map((c) => `<li>${escapeHtml(c)}</li>`).join('')}</ul></div>`
    : ''
  const table = content.blocks
    ? `<div class="scroll"><table><thead><tr>${content.blocks.headers.map((h) => `<th scope="col">${escapeHtml(h)}</th>`).join('')}</tr></thead><tbody>${content.blocks.rows
        .map((row) => `<tr>${row.map((cell) => `<td>${escapeHtml(cell)}</td>`).join('')}</tr>`)
        .join('')}</tbody></table></div>`
    : ''
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; media-src 'self' file:; style-src 'unsafe-inline'">
<title>${escapeHtml(content.title)}</title>
<style>${styles(accent)}</style>
</head>
<body>
<header>
<h1>${escapeHtml(content.title)}</h1>
<p>${escapeHtml([content.studentName, content.date, content.place].filter(Boolean).join(' · '))}</p>
${content.coachName ? `<p>from ${escapeHtml(content.coachName)}</p>` : ''}
</header>
<main>
<div class="message">${paragraphs(content.message)}</div>
${section('What the numbers say', content.findings.map(findingHtml).join('\n') + table + content.charts.map((c) => `<figure><div class="chart" role="img" aria-label="${escapeHtml(c.text)}">${c.svg}</div><figcaption>${escapeHtml(c.title)}</figcaption></figure>`).join('\n'))}
${section('Before and after', content.comparisons.map((c) => `<h3>${escapeHtml(c.title)}</h3>${clipHtml(c)}`).join('\n'))}
${section('Talked through', content.talkThroughs.map((c) => `<h3>${escapeHtml(c.title)}</h3>${clipHtml(c)}`).join('\n'))}
${section('Moments that matter', content.swings.map(swingHtml).join('\n'))}
${section('Until next time', plan)}
${section('Next lesson', content.nextFocus ? paragraphs(content.nextFocus) : '')}
</main>
<footer>Numbers are from the lesson’s own shot records. Clips are at the speed that stands beside them. Made with Leadside.</footer>
</body>
</html>
`
}
