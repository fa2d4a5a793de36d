import { starterDrills } from '../model/starter-drills.ts'
import type { Language } from './language.ts'

/** What a plan shows of a starter drill; what is in the coach's list only stays in the window's language. */
type Shown = 'name' | 'how' | 'dose' | 'watchFor'
type DrillText = Record<Shown, string>
interface StarterTexts {
  caution: string
  loadingCaution: string
  /** In the order of the starter drills. */
  drills: readonly DrillText[]
}

/** Machine-assisted; no speaker has read them yet. */
const texts: Record<Exclude<Language, 'en'>, StarterTexts> = {
  de: {
    caution:
      'Wärm dich zuerst auf. Hör sofort auf, wenn etwas wehtut. Prüf den Platz um dich herum und halte dich an die Regeln der Anlage.',
    loadingCaution:
      'Wärm dich zuerst auf. Hör sofort auf, wenn etwas wehtut. Prüf den Platz um dich herum und halte dich an die Regeln der Anlage. Diese Übung ist schnell oder belastet den Körper: nicht mit Schmerzen in Rücken, Handgelenk, Ellbogen, Schulter oder Knie, bevor medizinisches Fachpersonal zugestimmt hat; Minderjährige nur, wenn ein Erwachsener dabei ist.',
    drills: [
      {
        name: 'Sausen mit lockeren Schultern',
        how: 'Halte einen Schläger am Kopfende. Lass die Schultern bei einem langen Ausatmen sinken. Schwing mit halber Kraft und hör hin: Das Sausen soll kurz hinter der Stelle am lautesten sein, an der der Ball läge.',
        dose: '3 Durchgänge mit je 6, zwischen den Schwüngen einmal durchatmen, an 4 Tagen pro Woche',
        watchFor:
          'Die lauteste Stelle wandert nach vorn; der Kiefer ist locker; der Griff ist am Ende nicht fester als am Anfang',
      },
      {
        name: 'Tempo mit dem leichten Stab',
        how: 'Schwing mit einem leichten Stab und ohne Ball dreimal in ruhigem Tempo, dann dreimal so schnell, wie es das Gleichgewicht erlaubt. Steh am Ende jedes Mal ruhig auf dem vorderen Fuß.',
        dose: '2 Durchgänge mit 3 ruhigen und 3 schnellen, an zwei Tagen pro Woche mit einem Ruhetag dazwischen; in den ersten drei Wochen nicht mehr als das',
        watchFor: 'Gleichgewicht am Ende; kein Schwung schneller als einer, den du halten kannst',
      },
      {
        name: 'Abstützen gegen Zug',
        how: 'Befestige ein leichtes Gummiband in Hüfthöhe auf der hinteren Seite und steig hinein. Beweg dich vom höchsten Punkt langsam in die Treffposition und lass das vordere Bein den Zug halten, ohne dass die Hüfte über den Fuß hinaus rutscht. Halte zwei Sekunden.',
        dose: '2 Durchgänge mit 8 langsamen, an 3 Tagen pro Woche',
        watchFor: 'Vordere Hüfte über dem vorderen Fuß; das Knie fest, nicht durchgedrückt',
      },
      {
        name: 'Leiter der mittigen Treffer',
        how: 'Sprüh etwas Fußspray auf die Schlagfläche. Schlag drei Bälle mit halbem Tempo; liegen alle drei Abdrücke höchstens eine Münze weit von der Mitte, geh eine Stufe höher, sonst eine tiefer.',
        dose: '15 bis 20 Bälle, zweimal pro Woche; schreib die höchste gehaltene Stufe auf',
        watchFor: 'Die Abdrücke, nicht die Weite',
      },
      {
        name: 'Volles Tempo und zurück',
        how: 'Wechsle ab: ein Schwung mit vollem Tempo, zwei in dem Tempo, in dem du am besten triffst. Sag vor jedem laut, wie viel du gibst.',
        dose: '4 Runden mit 3 Bällen, zweimal pro Woche',
        watchFor: 'Die zwei ruhigen bleiben direkt nach dem schnellen in der Mitte',
      },
    ],
  },
  es: {
    caution:
      'Calienta primero. Para enseguida si algo te duele. Mira que haya sitio a tu alrededor y respeta las normas del lugar.',
    loadingCaution:
      'Calienta primero. Para enseguida si algo te duele. Mira que haya sitio a tu alrededor y respeta las normas del lugar. Este ejercicio es rápido o carga el cuerpo: no lo hagas con dolor de espalda, muñeca, codo, hombro o rodilla antes de que un profesional médico esté de acuerdo; los menores, solo con un adulto presente.',
    drills: [
      {
        name: 'Silbidos con hombros sueltos',
        how: 'Coge un palo por la cabeza. Deja caer los hombros al soltar el aire despacio. Haz el swing a medio esfuerzo y escucha: el silbido debe ser más fuerte justo después de donde estaría la bola.',
        dose: '3 series de 6, con una respiración entre swings, 4 días a la semana',
        watchFor:
          'Que lo más fuerte se vaya hacia delante; la mandíbula suelta; el grip no más firme al final que al principio',
      },
      {
        name: 'Velocidad con varilla ligera',
        how: 'Con una varilla ligera y sin bola, haz tres swings a ritmo cómodo y luego tres tan rápidos como permita el equilibrio. Acaba siempre quieto sobre el pie delantero.',
        dose: '2 series de 3 cómodos y 3 rápidos, dos días a la semana con un día de descanso entre ellos; no más durante las tres primeras semanas',
        watchFor: 'El equilibrio al final; ningún swing más rápido que uno que puedas sostener',
      },
      {
        name: 'Apoyo contra un tirón',
        how: 'Sujeta una banda elástica ligera a la altura de la cadera en el lado trasero y métete en ella. Desde el punto más alto, muévete despacio hasta la posición de impacto y deja que la pierna delantera aguante el tirón sin que la cadera pase del pie. Aguanta dos segundos.',
        dose: '2 series de 8 lentos, 3 días a la semana',
        watchFor: 'La cadera delantera sobre el pie delantero; la rodilla firme, no bloqueada',
      },
      {
        name: 'Escalera de golpes centrados',
        how: 'Pon un poco de espray para pies en la cara del palo. Da tres golpes a media velocidad; si las tres marcas quedan a menos de una moneda del centro, sube un escalón de esfuerzo; si no, baja uno.',
        dose: 'De 15 a 20 bolas, dos veces por semana; apunta el escalón más alto que mantengas',
        watchFor: 'Las marcas, no la distancia',
      },
      {
        name: 'A tope y de vuelta',
        how: 'Alterna un swing a toda velocidad con dos al ritmo en que mejor golpeas. Di el esfuerzo en voz alta antes de cada uno.',
        dose: '4 rondas de 3 bolas, dos veces por semana',
        watchFor: 'Que los dos tranquilos se queden en el centro justo después del rápido',
      },
    ],
  },
}

const tableOf = (language: Exclude<Language, 'en'>): ReadonlyMap<string, string> => {
  const { caution, loadingCaution, drills } = texts[language]
  return new Map(
    starterDrills.flatMap((drill, i) => [
      [drill.caution, drill.isLoading ? loadingCaution : caution] as const,
      ...(['name', 'how', 'dose', 'watchFor'] as const).map(
        (part) => [drill[part], drills[i]![part]] as const,
      ),
    ]),
  )
}
const tables = { de: tableOf('de'), es: tableOf('es') }

/** A starter drill's text in the language, as long as nobody has changed it; the coach's own text as it is. */
export const starterTextIn = (language: Language, text: string): string =>
  language === 'en' ? text : (tables[language].get(text) ?? text)
