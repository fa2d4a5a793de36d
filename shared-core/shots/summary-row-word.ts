/*
 * Words for a line that sums up others, in the languages exports come in; compared without case and accents, as whole
 * words. Common practice, no source.
 */
const strongWords =
  `average averages avg aver ave mean median std stdev stddev stdv sd deviation dev consistency summary
  durchschnitt durchschnittswert mittelwert mittel schnitt median standardabweichung stdabw stabw abw streuung
  promedio promedios prom media mediana desviacion estandar desv tipica resumen
  moyenne moyennes moy mediane ecart ecarts ecarttype
  media medie deviazione scarto medio dev.std
  desvio padrao dp media
  gemiddelde gemiddeld gem standaardafwijking stdafw
  medelvarde medel genomsnitt snitt standardavvikelse stdav
  gjennomsnitt standardavvik gennemsnit standardafvigelse
  keskiarvo ka keskihajonta
  srednia odchylenie prumer smerodatna odchylka atlag szoras medie priemer
  ortalama ort sapma
  среднее средний средняя отклонение ср μεσος μεση τυπικη
  平均 平均値 平均值 標準偏差 标准差 標準差 평균 표준편차 ค่าเฉลี่ย trungbinh
  media medias mittelwerte durchschn mw zusammenfassung resume riepilogo samenvatting sammanfattning
  合計 まとめ 最小 最大 ø ⌀ μ σ x̄ x̅ ± cv`
    .split(/\s+/)
    .filter(Boolean)

/** These may also be parts of names and of blocks, so they need the numbers to agree or a cell where no name can stand. */
const weakWords =
  `min max minimum maximum minimo maximo total totals sum summe gesamt anzahl count range best worst suma somme totale
  totaal bereich spanne meilleur mejor schlechteste beste highest lowest high low n shots session overall spread dispersion streuung schnitte
  mejores maks maksimum`
    .split(/\s+/)
    .filter(Boolean)

const plain = (text: string) =>
  text
    .toLowerCase()
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')

const set = (words: readonly string[]) => new Set(words.map((w) => plain(w).replace(/[^\p{L}\p{N}⌀±]/gu, '')))
const strong = set(strongWords)
const weak = set(weakWords)

/** `all` if the cell says nothing but that it sums up, `part` if such a word stands in it, null if none does. */
export type SummaryWord = { readonly strength: 'strong' | 'weak'; readonly extent: 'all' | 'part' } | null

/** Whether a cell's text labels a line of averages, spreads or extremes: "Session Average", "Ø", "Moy.", "Std. Dev.", "Max". */
export const summaryWord = (cell: string): SummaryWord => {
  const tokens = plain(cell)
    .split(/[^\p{L}\p{N}⌀±]+/u)
    .filter((t) => t !== '' && !/^\d+$/.test(t))
  if (tokens.length === 0) return null
  const joined = tokens.join('')
  const count = (words: ReadonlySet<string>) => tokens.filter((t) => words.has(t)).length
  for (const [strength, words] of [
    ['strong', strong],
    ['weak', weak],
  ] as const) {
    const found = count(words)
    if (words.has(joined) || (found > 0 && count(strong) + count(weak) === tokens.length)) {
      return { strength, extent: 'all' }
    }
    if (found > 0) return { strength, extent: 'part' }
  }
  // Languages without spaces between words.
  return /平均|標準偏差|标准差|평균|표준편차|合計|合计|최소|최대|최고/.test(cell)
    ? { strength: 'strong', extent: 'part' }
    : null
}
