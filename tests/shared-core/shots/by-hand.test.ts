import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { decodeText } from '../../../shared-core/shots/decode-text.ts'
import { readShots } from '../../../shared-core/shots/read-shots.ts'

/* Tables written by hand as people, spreadsheets and programs write them; each has one thing the generator of odd files does not do. */

const mph = 0.44704
const yd = 0.9144
const read = (text: string) => readShots(text)
const shotsOf = (text: string) => read(text).shots
const numbersOf = (text: string) =>
  shotsOf(text).map((s) => [
    s.clubSpeedMps === null ? null : Number((s.clubSpeedMps / mph).toFixed(2)),
    s.ballSpeedMps === null ? null : Number((s.ballSpeedMps / mph).toFixed(2)),
    s.carryM === null ? null : Number((s.carryM / yd).toFixed(1)),
  ])
const three = [
  [93, 136, 220],
  [95, 139, 228],
  [94, 137, 221],
]

describe('tables written by hand', () => {
  it('lines about the session above the header, with commas and colons', () => {
    const text =
      'Session:,"Tuesday, 14 May"\nCoach:,N. N.\nBall:,range ball (soft)\nTemp,18 °C\n\n' +
      'Club,Club Speed (mph),Ball Speed (mph),Carry (yd)\nDriver,93,136,220\nDriver,95,139,228\nDriver,94,137,221\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('a header that spells units out, and one in square brackets', () => {
    const text =
      'Club;Club speed in miles per hour;Ball speed [miles/hour];Carry distance (yards)\nDriver;93;136;220\nDriver;95;139;228\nDriver;94;137;221\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('thin spaces and narrow no-break spaces part thousands', () => {
    const text =
      'Ball Speed (mph);Spin (rpm);Carry (yd)\n136;2\u2009650;220\n139;2\u202f710;228\n137;11\u00a0020;221\n'
    expect(shotsOf(text).map((s) => s.spinRpm)).toEqual([2650, 2710, 11020])
  })
  it('minus signs of typographers', () => {
    const text =
      'Ball Speed (mph),Attack Angle (deg),Club Path (deg)\n136,\u22121.5,2.0\n139,\u20132,\u22123.1\n137,+0.5,\u22120.4\n'
    expect(shotsOf(text).map((s) => [s.attackDeg, s.clubPathDeg])).toEqual([
      [-1.5, 2],
      [-2, -3.1],
      [0.5, -0.4],
    ])
  })
  it('lines that end in CR only, and in separators', () => {
    const text =
      'Club,Club Speed (mph),Ball Speed (mph),Carry (yd),,\rDriver,93,136,220,,\rDriver,95,139,228,,\rDriver,94,137,221,,\r'
    expect(numbersOf(text)).toEqual(three)
    expect(read(text).unmapped).toEqual([])
    expect(read(text).problems).toEqual([])
  })
  it('empty columns between the others', () => {
    const text =
      ',Club,,Club Speed (mph),,Ball Speed (mph),,Carry (yd)\n,Driver,,93,,136,,220\n,Driver,,95,,139,,228\n,Driver,,94,,137,,221\n'
    expect(numbersOf(text)).toEqual(three)
    expect(read(text).unmapped).toEqual([])
  })
  it('a line "sep=;" of spreadsheets at the top', () => {
    const text =
      'sep=;\nClub;Club Speed (mph);Ball Speed (mph);Carry (yd)\nDriver;93,0;136,0;220,0\nDriver;95,0;139,0;228,0\nDriver;94,0;137,0;221,0\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('one shot a column: the table stands on its side', () => {
    const text =
      'Shot,1,2,3\nClub,Driver,Driver,Driver\nClub Speed (mph),93,95,94\nBall Speed (mph),136,139,137\nCarry (yd),220,228,221\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('dates in words, in two languages', () => {
    const at = (text: string) => shotsOf(text).map((s) => s.at)
    expect(at('Date,Ball Speed (mph)\n"May 14, 2026 3:05 PM",136\n"May 14, 2026 3:06 PM",139\n')).toEqual([
      '2026-05-14T15:05',
      '2026-05-14T15:06',
    ])
    expect(at('Datum;Ballgeschwindigkeit (mph)\n14. Mai 2026 15:05;136\n14. Mai 2026 15:06;139\n')).toEqual([
      '2026-05-14T15:05',
      '2026-05-14T15:06',
    ])
  })
  it('clubs as people write them', () => {
    const text =
      'Club,Ball Speed (mph)\nDr,136\n3-W,130\nHoly 5,120\n7 Iron,105\nEisen 7,104\n7i,103\nPW,88\n52°,80\nLW (60),70\n5 Hybrid,120\nPutter,6\n'
    expect(shotsOf(text).map((s) => s.club)).toEqual([
      'driver',
      '3-wood',
      'Holy 5',
      '7-iron',
      '7-iron',
      '7-iron',
      'pitching-wedge',
      'gap-wedge',
      'lob-wedge',
      '5-hybrid',
      'putter',
    ])
  })
  it('sides before and behind the number', () => {
    const text = 'Carry (yd),Side (yd)\n220,L 3.2\n221,3.2R\n222,3.2 left\n223,right 4\n224,0\n225,(L) 5\n'
    const sides = shotsOf(text).map((s) => s.sideM && Number((s.sideM / yd).toFixed(1)))
    expect(sides).toEqual([-3.2, 3.2, -3.2, 4, 0, -5])
  })
  it.each([
    ['Mittelwert', 'Std.-Abw.'],
    ['Moy.', 'Éc. type'],
    ['Ø', 'σ'],
    ['AVG:', 'STDEV:'],
    ['Promedio (3)', 'Desv. estándar'],
    ['Średnia', 'Odch. std.'],
    ['Means', 'S.D.'],
    ['durchschn.', 'Abweichung'],
  ])('"%s" and "%s" are no shots', (average, spread) => {
    const text = `Club,Club Speed (mph),Ball Speed (mph),Carry (yd)\nDriver,93,136,220\nDriver,95,139,228\nDriver,94,137,221\n${average},94.0,137.3,223.0\n${spread},1.0,1.5,4.4\n`
    expect(numbersOf(text)).toEqual(three)
  })
  it('an average without a label behind an empty line', () => {
    const text =
      'Club Speed (mph),Ball Speed (mph),Carry (yd)\n93,136,220\n95,139,228\n94,137,221\n\n94.0,137.3,223.0\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('a row whose cell was lost is not read one column to the left', () => {
    const text =
      'Club,Club Speed (mph),Ball Speed (mph),Launch (deg),Carry (yd)\nDriver,93,136,12.1,220\nDriver,95,139,11.8,228\nDriver,94,13.0,221\nDriver,94,137,12.2,221\nDriver,93,135,12.0,219\n'
    expect(shotsOf(text).map((s) => s.line)).toEqual([2, 3, 5, 6])
    expect(read(text).problems.map((p) => p.line)).toEqual([4])
  })
  it('what cannot be is kept and flagged', () => {
    const [fast, far] = shotsOf(
      'Club,Club Speed (mph),Ball Speed (mph),Carry (yd)\nDriver,93,190,220\nDriver,95,139,480\nDriver,95,140,226\n',
    )
    expect(fast!.flags.map((f) => f.metric)).toContain('clubSpeedMps')
    expect(far!.flags.map((f) => f.metric)).toContain('carryM')
  })
  it('0, 0.0, -, n/a and "---" are not measured', () => {
    const text =
      'Club,Club Speed (mph),Ball Speed (mph),Spin (rpm)\nDriver,0,136,0\nDriver,0.0,139,-\nDriver,n/a,137,---\nDriver,94,138,2600\n'
    expect(shotsOf(text).map((s) => [s.clubSpeedMps === null, s.spinRpm])).toEqual([
      [true, null],
      [true, null],
      [true, null],
      [false, 2600],
    ])
  })
  it('a note with commas, quotes and a line break is only a note', () => {
    const text =
      'Club,Notes,Club Speed (mph),Ball Speed (mph),Carry (yd)\nDriver,"thin, left",93,136,220\nDriver,"said ""ok"", then\nlaughed",95,139,228\nDriver,,94,137,221\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('cells joined over several rows: the club once, the date once', () => {
    const text =
      'Date,Club,Club Speed (mph),Ball Speed (mph),Carry (yd)\n2026-05-14,Driver,93,136,220\n,,95,139,228\n,,94,137,221\n,7 Iron,78,105,150\n,,79,106,151\n'
    expect(shotsOf(text).map((s) => s.club)).toEqual(['driver', 'driver', 'driver', '7-iron', '7-iron'])
  })
  it('the header once more in the middle, and the units with it', () => {
    const block = 'Club,Club Speed,Ball Speed,Carry\n,mph,mph,yd\n'
    expect(numbersOf(`${block}Driver,93,136,220\n${block}Driver,95,139,228\nDriver,94,137,221\n`)).toEqual(
      three,
    )
  })
  it('newest first, times without seconds', () => {
    const text = 'Time,Ball Speed (mph)\n15:07,137\n15:06,139\n15:06,138\n15:05,136\n'
    expect(shotsOf(text).map((s) => Math.round(s.ballSpeedMps! / mph))).toEqual([136, 138, 139, 137])
  })
  it('miles per hour beside metres, each stated', () => {
    const [shot] = shotsOf('Ball Speed (mph);Carry (m);Apex (ft)\n136;201;92\n139;208;95\n')
    expect(shot!.ballSpeedMps! / mph).toBeCloseTo(136)
    expect(shot!.carryM).toBeCloseTo(201)
    expect(shot!.apexM).toBeCloseTo(92 * 0.3048)
  })
  it('a club in the title of each table, with the number of shots', () => {
    const head = 'Club Speed (mph),Ball Speed (mph),Carry (yd)\n'
    const text = `Driver - 2 shots\n${head}93,136,220\n95,139,228\n\n7 Iron - 2 shots\n${head}78,105,150\n79,106,151\n`
    expect(shotsOf(text).map((s) => s.club)).toEqual(['driver', 'driver', '7-iron', '7-iron'])
  })
  it('decimal commas between semicolons, German names and units', () => {
    const text =
      '\ufeffSchläger;Schlägerkopfgeschwindigkeit (km/h);Ballgeschwindigkeit (km/h);Carry (m);Seitliche Abweichung (m)\r\nDriver;149,7;218,9;201,2;3,4 L\r\nDriver;152,9;223,7;208,5;1,0 R\r\nØ;151,3;221,3;204,9;1,2 L\r\n'
    expect(shotsOf(text).map((s) => s.sideM)).toEqual([-3.4, 1])
    expect(shotsOf(text)[0]!.ballSpeedMps).toBeCloseTo(218.9 / 3.6)
  })
  it('a table of UTF-16 with tabs, as "Unicode text" is saved', () => {
    const text = '\ufeffClub\tBall Speed (mph)\tCarry (yd)\r\nDriver\t136\t220\r\nDriver\t139\t228\r\n'
    const bytes = new Uint8Array(Buffer.from(text, 'utf16le'))
    expect(shotsOf(decodeText(bytes).text).map((s) => Math.round(s.carryM! / yd))).toEqual([220, 228])
  })
  it('a child’s table without units is told by how far the balls flew', () => {
    const { shots, problems } = read(
      'Club,Club Speed,Ball Speed,Carry\nDriver,49,64,78\nDriver,48,63,76\nDriver,50,65,80\n',
    )
    expect(shots[0]!.ballSpeedMps! / mph).toBeCloseTo(64)
    expect(problems.filter((p) => p.kind === 'assumed').map((p) => p.column)).toEqual(
      expect.arrayContaining(['Club Speed', 'Ball Speed', 'Carry']),
    )
  })
  it('the total in its own row, and the count', () => {
    const text =
      'Club,Club Speed (mph),Ball Speed (mph),Carry (yd)\nDriver,93,136,220\nDriver,95,139,228\nDriver,94,137,221\nTotal,,,669\nCount,3,3,3\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('dispersion in per cent below the shots', () => {
    const text =
      'Club Speed (mph),Ball Speed (mph),Carry (yd)\n93,136,220\n95,139,228\n94,137,221\n1.1 %,1.1 %,2.0 %\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('true, false and JSON beside the numbers', () => {
    const text =
      'Valid,Club Speed (mph),Ball Speed (mph),Carry (yd),Raw\ntrue,93,136,220,"{""id"": 1}"\ntrue,95,139,228,"{""id"": 2}"\nfalse,94,137,221,"{""id"": 3}"\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('all numbers in quotes with a leading space', () => {
    const text =
      'Club, "Club Speed (mph)", "Ball Speed (mph)", "Carry (yd)"\nDriver, "93", "136", "220"\nDriver, "95", "139", "228"\nDriver, "94", "137", "221"\n'
    expect(numbersOf(text)).toEqual(three)
  })
  it('efficiency in per cent is no line of spreads', () => {
    const text = 'Ball Speed (mph),Smash (%)\n136,146 %\n139,147 %\n137,145 %\n'
    expect(shotsOf(text)).toHaveLength(3)
  })
  it('columns by snake and camel case', () => {
    const text =
      'club_name,clubHeadSpeedMph,ballSpeedMph,carryDistanceYards\ndriver,93,136,220\ndriver,95,139,228\ndriver,94,137,221\n'
    expect(numbersOf(text)).toEqual(three)
  })
})

describe('what a label, a place or a space may not change', () => {
  const labels = ['Average', 'Ø', 'Mittelwert', 'Moy.', 'Gemiddelde', 'Snitt', '平均', 'Team Average', '']
  const cases = fc.record({
    speeds: fc.array(fc.integer({ min: 850, max: 1000 }), { minLength: 4, maxLength: 12 }),
    label: fc.constantFrom(...labels),
    before: fc.constantFrom('', ' ', '\u00a0'),
    isTop: fc.boolean(),
    delimiter: fc.constantFrom(',', ';', '\t'),
    lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
    tail: fc.integer({ min: 0, max: 3 }),
  })
  it('an average of the table is never a shot, and every shot stays', () => {
    fc.assert(
      fc.property(cases, ({ speeds, label, before, isTop, delimiter, lineEnd, tail }) => {
        const rows = speeds.map((s, k) => [
          'Driver',
          String(k + 1),
          (s / 10).toFixed(1),
          (s * 0.146 + ((k * 7) % 5) / 10).toFixed(1),
          (s * 0.235 + ((k * 3) % 7)).toFixed(1),
        ])
        const mean = (c: number) => (rows.reduce((sum, r) => sum + Number(r[c]), 0) / rows.length).toFixed(1)
        const sum = [`${before}${label}`, '', mean(2), mean(3), mean(4)]
        const all = isTop ? [sum, ...rows] : [...rows, sum]
        const text = [['Club', 'Shot', 'Club Speed (mph)', 'Ball Speed (mph)', 'Carry (yd)'], ...all]
          .map((r) => r.join(delimiter) + delimiter.repeat(tail))
          .join(lineEnd)
        const reading = readShots(text, { doubled: 'all' })
        expect(reading.shots).toHaveLength(speeds.length)
        expect(reading.problems.filter((p) => p.kind !== 'skipped' && p.kind !== 'assumed')).toEqual([])
      }),
      { numRuns: 150, seed: 90_001 },
    )
  })
  it('0 in a speed, a carry or a spin is never a value, wherever it stands and however it is written', () => {
    const names = ['Club Speed (mph)', 'Ball Speed (mph)', 'Carry (yd)', 'Spin (rpm)'] as const
    const keys = ['clubSpeedMps', 'ballSpeedMps', 'carryM', 'spinRpm'] as const
    const usual = [93, 136, 220, 2600]
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(3), fc.constantFrom('0', '0.0', '0.00', '-0', '+0')), {
          minLength: 4,
          maxLength: 10,
        }),
        (zeros) => {
          const lines = zeros.map(([at, zero], k) =>
            usual.map((u, c) => (c === at ? zero : String(Math.round(u * (1 + 0.011 * ((k * 7) % 10)))))),
          )
          const reading = readShots(
            [['Club', 'Shot', ...names], ...lines.map((l, k) => ['Driver', String(k + 1), ...l])]
              .map((l) => l.join(','))
              .join('\n'),
          )
          expect(reading.shots).toHaveLength(zeros.length)
          reading.shots.forEach((shot, k) =>
            keys.forEach((key, c) => expect(shot[key] === null).toBe(c === zeros[k]![0])),
          )
          for (const c of new Set(zeros.map(([at]) => at))) {
            expect(
              reading.problems.some((p) => p.column === names[c] && /not measured/.test(p.message)),
            ).toBe(true)
          }
        },
      ),
      { numRuns: 100, seed: 90_002 },
    )
  })
})
