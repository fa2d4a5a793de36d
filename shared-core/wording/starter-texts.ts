import { starterDrills, type StarterDrillKey } from '../model/starter-drills.ts'
import type { Language } from './language.ts'

/** What a plan shows of a starter drill. */
type Shown = 'name' | 'how' | 'dose' | 'watchFor'
type DrillText = Record<Shown, string>
interface StarterTexts {
  caution: string
  loadingCaution: string
  drills: Record<StarterDrillKey, DrillText>
}
/** The whole of a starter drill as the coach reads it. */
export type StarterDrillText = DrillText & { purpose: string; caution: string }

const caution =
  'Warm up first. Stop at once if anything hurts. Check the space around you and follow the rules of the place.'

/** What a starter drill is for; stands in the coach's list only, in the window's language. */
const purposes: Record<StarterDrillKey, string> = {
  'soft-shoulder-swishes': 'Softer shoulders and arms, so that speed comes late',
  'light-stick-speed': 'More club speed once the strike holds',
  'brace-against-pull': 'A firm lead side before impact',
  'centre-strike-ladder': 'Strike before speed',
  'full-speed-and-back': 'Learn the speed at which the face is still under control',
}

/** German and Spanish are machine-assisted; no speaker has read them yet. */
const texts: Record<Language, StarterTexts> = {
  en: {
    caution,
    loadingCaution: `${caution} This drill is fast or loads the body: not with a sore back, wrist, elbow, shoulder or knee before a medical professional has agreed; minors only with an adult present.`,
    drills: {
      'soft-shoulder-swishes': {
        name: 'Relaxed-shoulder swishes',
        how: 'Hold a club by the head end. Let the shoulders drop on a long breath out. Swing at half effort and listen: the swish should be loudest just past where the ball would be.',
        dose: '3 sets of 6, a breath between swings, 4 days a week',
        watchFor: 'The loudest part moving forward; jaw loose; grip no firmer at the end than at the start',
      },
      'light-stick-speed': {
        name: 'Light-stick speed swings',
        how: 'With a light stick and no ball, swing at an easy pace three times, then three times as fast as balance allows. Finish still on the lead foot each time.',
        dose: '2 sets of 3 easy + 3 fast, two days a week with a rest day between; no more than this for the first three weeks',
        watchFor: 'Balance at the finish; no swing faster than one you can hold',
      },
      'brace-against-pull': {
        name: 'Brace against a pull',
        how: 'Fix a light elastic band at hip height on the trail side and step into it. From the top, move slowly to the impact position and let the lead leg take the pull without the hip sliding past the foot. Hold two seconds.',
        dose: '2 sets of 8 slow ones, 3 days a week',
        watchFor: 'Lead hip over the lead foot; the knee firm, not locked',
      },
      'centre-strike-ladder': {
        name: 'Centre-strike ladder',
        how: 'Put a little foot spray on the face. Hit three balls at half speed; if all three marks are within a coin of the middle, go up one step of effort, else go down one.',
        dose: '15 to 20 balls, twice a week; note the highest step held',
        watchFor: 'The marks, not the distance',
      },
      'full-speed-and-back': {
        name: 'Full speed and back',
        how: 'Alternate one full-speed swing with two at the pace where the strike is best. Say the effort aloud before each.',
        dose: '4 rounds of 3 balls, twice a week',
        watchFor: 'The two calm ones staying in the middle right after the fast one',
      },
    },
  },
  de: {
    caution:
      'Wärm dich zuerst auf. Hör sofort auf, wenn etwas wehtut. Prüf den Platz um dich herum und halte dich an die Regeln der Anlage.',
    loadingCaution:
      'Wärm dich zuerst auf. Hör sofort auf, wenn etwas wehtut. Prüf den Platz um dich herum und halte dich an die Regeln der Anlage. Diese Übung ist schnell oder belastet den Körper: nicht mit Schmerzen in Rücken, Handgelenk, Ellbogen, Schulter oder Knie, bevor medizinisches Fachpersonal zugestimmt hat; Minderjährige nur, wenn ein Erwachsener dabei ist.',
    drills: {
      'soft-shoulder-swishes': {
        name: 'Sausen mit lockeren Schultern',
        how: 'Halte einen Schläger am Kopfende. Lass die Schultern bei einem langen Ausatmen sinken. Schwing mit halber Kraft und hör hin: Das Sausen soll kurz hinter der Stelle am lautesten sein, an der der Ball läge.',
        dose: '3 Durchgänge mit je 6, zwischen den Schwüngen einmal durchatmen, an 4 Tagen pro Woche',
        watchFor:
          'Die lauteste Stelle wandert nach vorn; der Kiefer ist locker; der Griff ist am Ende nicht fester als am Anfang',
      },
      'light-stick-speed': {
        name: 'Tempo mit dem leichten Stab',
        how: 'Schwing mit einem leichten Stab und ohne Ball dreimal in ruhigem Tempo, dann dreimal so schnell, wie es das Gleichgewicht erlaubt. Steh am Ende jedes Mal ruhig auf dem vorderen Fuß.',
        dose: '2 Durchgänge mit 3 ruhigen und 3 schnellen, an zwei Tagen pro Woche mit einem Ruhetag dazwischen; in den ersten drei Wochen nicht mehr als das',
        watchFor: 'Gleichgewicht am Ende; kein Schwung schneller als einer, den du halten kannst',
      },
      'brace-against-pull': {
        name: 'Abstützen gegen Zug',
        how: 'Befestige ein leichtes Gummiband in Hüfthöhe auf der hinteren Seite und steig hinein. Beweg dich vom höchsten Punkt langsam in die Treffposition und lass das vordere Bein den Zug halten, ohne dass die Hüfte über den Fuß hinaus rutscht. Halte zwei Sekunden.',
        dose: '2 Durchgänge mit 8 langsamen, an 3 Tagen pro Woche',
        watchFor: 'Vordere Hüfte über dem vorderen Fuß; das Knie fest, nicht durchgedrückt',
      },
      'centre-strike-ladder': {
        name: 'Leiter der mittigen Treffer',
        how: 'Sprüh etwas Fußspray auf die Schlagfläche. Schlag drei Bälle mit halbem Tempo; liegen alle drei Abdrücke höchstens eine Münze weit von der Mitte, geh eine Stufe höher, sonst eine tiefer.',
        dose: '15 bis 20 Bälle, zweimal pro Woche; schreib die höchste gehaltene Stufe auf',
        watchFor: 'Die Abdrücke, nicht die Weite',
      },
      'full-speed-and-back': {
        name: 'Volles Tempo und zurück',
        how: 'Wechsle ab: ein Schwung mit vollem Tempo, zwei in dem Tempo, in dem du am besten triffst. Sag vor jedem laut, wie viel du gibst.',
        dose: '4 Runden mit 3 Bällen, zweimal pro Woche',
        watchFor: 'Die zwei ruhigen bleiben direkt nach dem schnellen in der Mitte',
      },
    },
  },
  es: {
    caution:
      'Calienta primero. Para enseguida si algo te duele. Mira que haya sitio a tu alrededor y respeta las normas del lugar.',
    loadingCaution:
      'Calienta primero. Para enseguida si algo te duele. Mira que haya sitio a tu alrededor y respeta las normas del lugar. Este ejercicio es rápido o carga el cuerpo: no lo hagas con dolor de espalda, muñeca, codo, hombro o rodilla antes de que un profesional médico esté de acuerdo; los menores, solo con un adulto presente.',
    drills: {
      'soft-shoulder-swishes': {
        name: 'Silbidos con hombros sueltos',
        how: 'Coge un palo por la cabeza. Deja caer los hombros al soltar el aire despacio. Haz el swing a medio esfuerzo y escucha: el silbido debe ser más fuerte justo después de donde estaría la bola.',
        dose: '3 series de 6, con una respiración entre swings, 4 días a la semana',
        watchFor:
          'Que lo más fuerte se vaya hacia delante; la mandíbula suelta; el grip no más firme al final que al principio',
      },
      'light-stick-speed': {
        name: 'Velocidad con varilla ligera',
        how: 'Con una varilla ligera y sin bola, haz tres swings a ritmo cómodo y luego tres tan rápidos como permita el equilibrio. Acaba siempre quieto sobre el pie delantero.',
        dose: '2 series de 3 cómodos y 3 rápidos, dos días a la semana con un día de descanso entre ellos; no más durante las tres primeras semanas',
        watchFor: 'El equilibrio al final; ningún swing más rápido que uno que puedas sostener',
      },
      'brace-against-pull': {
        name: 'Apoyo contra un tirón',
        how: 'Sujeta una banda elástica ligera a la altura de la cadera en el lado trasero y métete en ella. Desde el punto más alto, muévete despacio hasta la posición de impacto y deja que la pierna delantera aguante el tirón sin que la cadera pase del pie. Aguanta dos segundos.',
        dose: '2 series de 8 lentos, 3 días a la semana',
        watchFor: 'La cadera delantera sobre el pie delantero; la rodilla firme, no bloqueada',
      },
      'centre-strike-ladder': {
        name: 'Escalera de golpes centrados',
        how: 'Pon un poco de espray para pies en la cara del palo. Da tres golpes a media velocidad; si las tres marcas quedan a menos de una moneda del centro, sube un escalón de esfuerzo; si no, baja uno.',
        dose: 'De 15 a 20 bolas, dos veces por semana; apunta el escalón más alto que mantengas',
        watchFor: 'Las marcas, no la distancia',
      },
      'full-speed-and-back': {
        name: 'A tope y de vuelta',
        how: 'Alterna un swing a toda velocidad con dos al ritmo en que mejor golpeas. Di el esfuerzo en voz alta antes de cada uno.',
        dose: '4 rondas de 3 bolas, dos veces por semana',
        watchFor: 'Que los dos tranquilos se queden en el centro justo después del rápido',
      },
    },
  },
}

/** A starter drill's words. */
const textOf = (language: Language, key: StarterDrillKey): DrillText & { caution: string } => {
  const { drills, loadingCaution, caution: plain } = texts[language]
  const isLoading = starterDrills.some((drill) => drill.key === key && drill.isLoading)
  return { ...drills[key], caution: isLoading ? loadingCaution : plain }
}

/** A starter drill's words in the coach's list, in the window's language. */
export const starterDrillText = (key: StarterDrillKey): StarterDrillText => ({
  ...textOf('en', key),
  purpose: purposes[key],
})

const tableOf = (language: Language): ReadonlyMap<string, string> =>
  new Map(
    starterDrills.flatMap(({ key }) => {
      const [from, to] = [textOf('en', key), textOf(language, key)]
      return (['name', 'how', 'dose', 'watchFor', 'caution'] as const).map((part) => [from[part], to[part]])
    }),
  )
const tables = { de: tableOf('de'), es: tableOf('es') }

/**
 * Text of a plan's item in the language. An item is what the coach chose, as it was then, in words: those of a starter drill that
 * nobody has changed are said in the language; the coach's own stay as they are.
 */
export const starterTextIn = (language: Language, text: string): string =>
  language === 'en' ? text : (tables[language].get(text) ?? text)
