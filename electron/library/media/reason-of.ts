const noise = /^(frame=|size=|video:|Press \[q\]|Conversion failed)/
const telling =
  /error|invalid|no such|not found|no space|permission|moov|could not|unable|denied|failed|does not contain/i

/** What the programs' own words mean to a coach. */
const plain: readonly (readonly [RegExp, string])[] = [
  [/moov atom not found/i, 'its end is missing: recording or copying was broken off'],
]

/** The line of a media program's log that tells a person most, without addresses and file names before it. */
export const reasonOf = (log: string): string => {
  const lines = log
    .split(/[\r\n]+/)
    .map((line) => line.replace(/^\[[^\]]*\]\s*/, '').trim())
    .filter((line) => line !== '' && !noise.test(line))
  const known = plain.find(([words]) => words.test(log))
  if (known) return known[1]
  return (lines.findLast((line) => telling.test(line)) ?? lines.at(-1) ?? 'it gave no reason')
    .replace(/^.*?: (?=Invalid data)/, '')
    .replaceAll(/\s+/g, ' ')
    .slice(0, 300)
}
