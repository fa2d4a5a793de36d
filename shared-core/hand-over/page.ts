import { createElement as h, Fragment, type ReactElement, type ReactNode } from 'react'
import type { Language } from '../wording/language.ts'
import { dayIn, sayIn, standingCautions, type Say } from '../wording/say.ts'
import { accentOn, isColour, pageGrounds, usualAccent } from './accent.ts'
import { noteElements } from './note-elements.ts'
import { pageStyle } from './page-style.ts'

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

/** A list of elements that stands as it is and is never told apart again. */
const all = (...parts: ReactNode[]): ReactElement => h(Fragment, null, ...parts)

const findingPart = (finding: PageFinding) =>
  h(
    'div',
    { className: 'finding' },
    h('p', null, finding.sentence),
    h('p', { className: 'sure' }, finding.howSure),
    finding.caution ? h('p', { className: 'caution' }, finding.caution) : null,
  )

const cardPart = (card: PageCard) =>
  h(
    'section',
    { className: 'card' },
    h('h3', null, card.title),
    h('p', null, card.text),
    card.howSure ? h('p', { className: 'sure' }, card.howSure) : null,
    card.caution ? h('p', { className: 'sure' }, card.caution) : null,
  )

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

/** A clip that plays beside the page, and its poster on paper. */
const video = (
  clip: { file: string; title: string; label: string; width: number; height: number; poster?: string },
  ...tracks: ReactNode[]
) =>
  h(
    'video',
    {
      controls: true,
      playsInline: true,
      preload: 'metadata',
      width: clip.width,
      height: clip.height,
      poster: clip.poster,
      'aria-label': clip.label,
    },
    h('source', { src: clip.file, type: 'video/mp4' }),
    ...tracks,
    h('a', { href: clip.file }, clip.title),
  )

const clipPart = (clip: PageClip, say: Say, isPrinted = true) => {
  const poster = clip.posterBase64 ? `data:image/jpeg;base64,${clip.posterBase64}` : undefined
  const holds = clip.holds.filter((hold) => hold.text)
  // The words are burned in, too, so the track is offered and not switched on.
  const track = holds.length
    ? h('track', {
        kind: 'captions',
        srcLang: say.language,
        label: say('page.moments'),
        src: `data:text/vtt;charset=utf-8,${encodeURIComponent(webVtt(holds)).replace(/'/g, '%27')}`,
      })
    : null
  const picture = (className?: string) =>
    poster ? h('img', { className, alt: clip.text, src: poster }) : null
  const { file, title, text: label, width, height } = clip
  return h(
    'figure',
    null,
    file === null ? picture() : video({ file, title, label, width, height, poster }, track),
    file !== null && isPrinted ? picture('printed') : null,
    h(
      'figcaption',
      null,
      h('span', { className: 'speed' }, clip.speed),
      clip.caption,
      holds.length
        ? h(
            'ul',
            { className: 'holds' },
            ...holds.map((hold) => h('li', null, h('span', null, clockText(hold.atSeconds, 1)), hold.text)),
          )
        : null,
    ),
  )
}

/** A picture is a thumbnail until it is pressed; then it is as wide as the page. It works without a script. */
const stillPart = (still: PageSwing['stills'][number]) =>
  h(
    'figure',
    { className: 'still' },
    h(
      'label',
      null,
      h('input', { type: 'checkbox' }),
      h('img', {
        src: `data:image/jpeg;base64,${still.jpegBase64}`,
        width: still.width,
        height: still.height,
        alt: still.alt,
      }),
    ),
    h('figcaption', null, still.caption),
  )

const swingClip = (clip: PageClip, hasStills: boolean, say: Say) =>
  hasStills && clip.file !== null
    ? h('div', { className: 'only-screen' }, clipPart(clip, say, false))
    : clipPart(clip, say)

const swingPart = (swing: PageSwing, say: Say) =>
  h(
    'section',
    { className: 'swing' },
    h('h3', null, swing.title),
    swing.caption ? noteElements(swing.caption) : null,
    swing.clip ? swingClip(swing.clip, swing.stills.length > 0, say) : null,
    swing.stills.length ? h('div', { className: 'stills' }, ...swing.stills.map(stillPart)) : null,
    swing.cues.length ? h('ul', null, ...swing.cues.map((cue) => h('li', null, cue))) : null,
    swing.numbers.length
      ? h(
          'dl',
          { className: 'swing-numbers' },
          ...swing.numbers.map((n) => h('div', null, h('dt', null, n.label), h('dd', null, n.value))),
        )
      : null,
  )

interface Chapter {
  id: string
  title: string
  /** In the table of contents. */
  short: string
  /** Null where there is nothing to say. */
  body: ReactElement | null
}

const chapterPart = ({ id, title, body }: Chapter) =>
  h('div', { className: 'chapter', id }, h('h2', null, title), body)

const drillPicture = ({ dataUri, width, height, file, alt }: PageDrillPicture) => {
  const picture = (className?: string) => h('img', { className, src: dataUri, width, height, alt })
  return file === null
    ? h('figure', null, picture())
    : h(
        'figure',
        null,
        video({ file, title: alt, label: alt, width, height, poster: dataUri }),
        picture('printed'),
      )
}

const drillPart = (item: PagePlanItem, say: Say) => {
  const rows = [
    [say('page.howMuch'), item.dose],
    [say('page.watchFor'), item.watchFor],
  ].filter(([, text]) => text)
  return h(
    'section',
    { className: 'drill' },
    h('h3', null, item.name),
    item.how ? noteElements(item.how) : null,
    item.picture ? drillPicture(item.picture) : null,
    rows.length
      ? h('dl', null, ...rows.flatMap(([name, text]) => [h('dt', null, name), h('dd', null, text)]))
      : null,
    item.caution ? h('p', { className: 'caution' }, item.caution) : null,
  )
}

const planPart = (plan: NonNullable<PageContent['plan']>, say: Say) =>
  all(
    ...plan.items.map((item) => drillPart(item, say)),
    plan.note ? noteElements(plan.note) : null,
    h(
      'div',
      { className: 'caution' },
      h('ul', null, ...standingCautions(say).map((caution) => h('li', null, caution))),
    ),
  )

const tablePart = ({ headers, rows }: NonNullable<PageContent['blocks']>) =>
  h(
    'table',
    null,
    h('thead', null, h('tr', null, ...headers.map((header) => h('th', { scope: 'col' }, header)))),
    h(
      'tbody',
      null,
      ...rows.map((row) =>
        h('tr', null, ...row.map((cell, i) => h('td', { 'data-label': headers[i] ?? '' }, cell))),
      ),
    ),
  )

/** What a chart's library drew; it escapes what it writes. */
const drawn = (className: string, svg: string) =>
  h('div', { className, 'aria-hidden': true, dangerouslySetInnerHTML: { __html: svg } })

const chartPart = (chart: PageContent['charts'][number]) =>
  h(
    'figure',
    { role: 'img', 'aria-label': chart.text },
    drawn('chart', chart.svg),
    drawn('chart narrow', chart.narrowSvg),
    h('figcaption', null, chart.title),
  )

const numbersPart = (content: PageContent, unitNote: ReactElement | null, say: Say): ReactElement | null => {
  const { cards, charts, moreFindings, blocks } = content
  const note = cards.length > 0 ? null : unitNote
  if (!note && charts.length === 0 && moreFindings.length === 0 && !blocks) return null
  return all(
    note,
    ...charts.map(chartPart),
    moreFindings.length > 0 || blocks
      ? h(
          'details',
          { className: 'more' },
          h('summary', null, say('page.more')),
          ...moreFindings.map(findingPart),
          blocks ? tablePart(blocks) : null,
        )
      : null,
    // Paper has nothing to open: the table stands there, the further findings stay on the screen.
    blocks ? h('div', { className: 'printed' }, tablePart(blocks)) : null,
  )
}

const chaptersOf = (content: PageContent, say: Say): Chapter[] => {
  const hasNumbers = content.cards.length > 0 || content.charts.length > 0 || content.blocks !== null
  const unitNote =
    content.unitNote !== null && hasNumbers ? h('p', { className: 'unit-note' }, content.unitNote) : null
  const clips = (title: string, list: PageClip[]) =>
    list.length
      ? all(
          ...list.flatMap((clip) => [
            clip.title === title ? null : h('h3', null, clip.title),
            clipPart(clip, say),
          ]),
        )
      : null
  const chapters: Chapter[] = [
    {
      id: 'short',
      title: say('page.inShort'),
      short: say('page.inShort'),
      body: content.cards.length
        ? all(h('div', { className: 'cards' }, ...content.cards.map(cardPart)), unitNote)
        : null,
    },
    {
      id: 'before',
      title: say('page.beforeAfter'),
      short: say('page.beforeAfterShort'),
      body: clips(say('page.beforeAfter'), content.comparisons),
    },
    {
      id: 'lesson',
      title: say('page.shots'),
      short: say('page.shotsShort'),
      body: numbersPart(content, unitNote, say),
    },
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
      body: content.swings.length ? all(...content.swings.map((swing) => swingPart(swing, say))) : null,
    },
    {
      id: 'plan',
      title: say('page.plan'),
      short: say('page.planShort'),
      body: content.plan ? planPart(content.plan, say) : null,
    },
    {
      id: 'next',
      title: say('page.next'),
      short: say('page.nextShort'),
      body: content.nextFocus.trim() ? noteElements(content.nextFocus) : null,
    },
  ]
  return chapters.filter(({ body }) => body !== null)
}

/** Where the page may take anything from: itself, and the clips beside it (W3C, Content Security Policy Level 3). */
const policy = {
  'default-src': ["'none'"],
  'img-src': ['data:'],
  'media-src': ["'self'", 'file:', 'data:'],
  'style-src': ["'unsafe-inline'"],
}
const policyText = Object.entries(policy)
  .map(([what, from]) => [what, ...from].join(' '))
  .join('; ')

const headPart = (content: PageContent) => {
  const chosen = isColour(content.accent) ? content.accent : usualAccent
  const accent = { light: accentOn(chosen, pageGrounds.light), dark: accentOn(chosen, pageGrounds.dark) }
  return h(
    'head',
    null,
    h('meta', { charSet: 'utf-8' }),
    h('meta', { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
    h('meta', {
      httpEquiv: 'Content-Security-Policy',
      content: policyText,
    }),
    h('meta', { name: 'referrer', content: 'no-referrer' }),
    h('title', null, content.title),
    h('style', { dangerouslySetInnerHTML: { __html: pageStyle(accent) } }),
  )
}

const contentsPart = (chapters: readonly Chapter[], say: Say) =>
  h(
    'nav',
    { 'aria-label': say('page.onThisPage') },
    h(
      'ul',
      null,
      ...chapters.map(({ id, short }) => h('li', null, h('a', { href: `#${id}` }, short))),
      h('li', null, h('a', { href: '#top', 'aria-label': say('page.backToTop') }, `↑ ${say('page.top')}`)),
    ),
  )

/** The student's page: one document, no request to anywhere; only the clips lie beside it. */
export const handOverPage = (content: PageContent): ReactElement => {
  const say = sayIn(content.language)
  const { logo, coachName } = content
  const chapters = chaptersOf(content, say)
  return h(
    'html',
    { lang: content.language },
    headPart(content),
    h(
      'body',
      null,
      h(
        'header',
        { id: 'top' },
        logo
          ? h('img', {
              className: 'logo',
              src: logo.dataUri,
              width: logo.width,
              height: logo.height,
              alt: coachName ? say('page.logoOf', { coach: coachName }) : say('page.logoOfCoach'),
            })
          : null,
        h('h1', null, content.title),
        h(
          'p',
          null,
          [content.studentName, dayIn(say, content.date), content.place].filter(Boolean).join(' · '),
        ),
        coachName ? h('p', null, say('page.from', { coach: coachName })) : null,
      ),
      chapters.length > 1 ? contentsPart(chapters, say) : null,
      h(
        'main',
        null,
        h('div', { className: 'message' }, noteElements(content.message)),
        ...chapters.map(chapterPart),
      ),
      h('footer', null, say('page.footer')),
    ),
  )
}
