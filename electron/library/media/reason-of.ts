import { phrase, type Phrase, type Word } from '../../../shared-core/wording/phrase.ts'

const noise = /^(frame=|size=|video:|Press \[q\]|Conversion failed)/
const telling =
  /error|invalid|no such|not found|no space|permission|moov|could not|unable|denied|failed|does not contain/i

/** What the programs' own words mean to a coach. */
const plain: readonly (readonly [RegExp, Phrase])[] = [[/moov atom not found/i, phrase('media.endMissing')]]

/** The line of a media program's log that tells a person most, without addresses and file names before it. */
export const reasonOf = (log: string): Word => {
  const lines = log
    .split(/[\r\n]+/)
    .map((line) => line.replace(/^\[[^\]]*\]\s*/, '').trim())
    .filter((line) => line !== '' && !noise.test(line))
  const known = plain.find(([words]) => words.test(log))
  if (known) return known[1]
  const line = lines.findLast((one) => telling.test(one)) ?? lines.at(-1)
  if (line === undefined) return phrase('media.noReason')
  return line
    .replace(/^.*?: (?=Invalid data)/, '')
    .replaceAll(/\s+/g, ' ')
    .slice(0, 300)
}
