import type { SpokenKey } from './spoken.ts'

/** What is found in a lesson, in Spanish. Machine-assisted; no speaker has read it yet. */
export const findingsEs: Record<SpokenKey, string> = {
  'text.quoted': '«{label}»',
  'text.nothing': 'casi nada',
  'text.nothingEitherWay': 'casi nada en ningún sentido',
  'text.noDifference': 'ninguna diferencia',
  'text.fromTo': 'de {low} a {high}',
  'text.byWay': '{by} {way}',
  'text.noP': 'sin p',
  'text.smallP': 'p menor que 0,001',
  'text.p': 'p {p}',
  'text.adjustedP': '{p}, ajustado {adjusted}',
  'text.efficiencyNotRecorded':
    'La eficiencia necesita velocidad del palo y de la bola del mismo golpe; no se registraron las dos, así que no se puede decir nada de ella.',
  'text.notRecorded': '{what}: no se registró, así que no se puede decir nada.',
  'text.inBlock': '{kind} en {block}',
  'text.inBlockByCoach': '{kind} en {block} (excluidos por el entrenador)',
  'text.noShots': 'Ningún golpe.',
  'text.stop': '{text}.',
  'text.ofClub': '{club}: {text}.',
  'text.noClub': 'los golpes sin nombre de palo',
  'text.theClub': 'palo {club}',
  'text.none': 'Ninguno.',
  'text.assumedError':
    'error del aparato: supuesto, el entrenador puede cambiarlo (no se pudo confirmar ningún valor publicado del aparato)',
  'text.sourceAndError': '{publications}; {error}',
  'text.blocks': '{before} y {after}',
  'text.of': '{label}: {text}',

  'count.shot': '{n, plural, one {# golpe} other {# golpes}}',
  'count.clubShot': '{n, plural, one {# golpe} other {# golpes}} con {club}',
  'count.shotOfUnknownClub': '{n, plural, one {# golpe} other {# golpes}} con palo desconocido',
  'count.strike': '{n, plural, one {# impacto} other {# impactos}}',
  'count.block': '{n, plural, one {# bloque} other {# bloques}}',
  'count.earlierBlock': '{n, plural, one {# bloque anterior} other {# bloques anteriores}}',
  'count.pair': '{n, plural, one {# par} other {# pares}}',
  'count.taggedSwing': '{n, plural, one {# swing marcado} other {# swings marcados}}',
  'count.lesson': '{n, plural, one {# clase} other {# clases}}',
  'count.student': '{n, plural, one {# alumno} other {# alumnos}}',
  'count.number': '{n, plural, one {# valor mirado} other {# valores mirados}}',
  'count.reading': '{n, plural, one {# lectura} other {# lecturas}}',

  'way.faster': 'más rápido',
  'way.slower': 'más lento',
  'way.longer': 'más largo',
  'way.shorter': 'más corto',
  'way.earlier': 'antes',
  'way.later': 'después',
  'way.straighter': 'más estirado',
  'way.moreBent': 'más flexionado',
  'way.towardTarget': 'más hacia el objetivo',
  'way.fromTarget': 'más lejos del objetivo',
  'way.higher': 'más alto',
  'way.lower': 'más bajo',

  'sure.notRecorded': 'No registrado.',
  'sure.notCompared': 'No se comparó nada.',
  'sure.cannotTell': 'No se puede decir.',
  'sure.cannotTellYet': 'Aún no se puede decir.',
  'sure.clear': 'Claro.',
  'sure.clearAmong': 'Claro: {numbers}, y esto lo tiene en cuenta.',
  'sure.deviceError': 'No se distingue del error del aparato.',
  'sure.fewDigits': 'No se puede decir: el aparato da muy pocas cifras.',
  'sure.hitSpeedsOnly': 'Claro para las velocidades golpeadas, y solo para esas.',

  'caution.swing':
    'Calienta primero y aumenta poco a poco. Para si algo duele; con una lesión, consulta a un profesional médico antes de trabajar la velocidad. Cuida el espacio a tu alrededor y sigue las normas del lugar.',

  'compare.noReadings': '{what}: no se puede comparar entre {blocks}; en uno de ellos no hay lecturas.',
  'compare.nothingToCompare': '{blocks} no tienen lecturas que comparar.',
  'compare.firstImpression':
    '{n, plural, one {# golpe} other {# golpes}} en {block} {n, plural, one {es} other {son}} una primera impresión, no un nivel.',
  'compare.looks': '{what} parece {by} {way} en {after} que en {before}, pero {impression}',
  'compare.hitMore': 'Golpea más antes de construir sobre ello.',
  'compare.notYetSure': 'Aún no es seguro: {impression}',
  'compare.tooFew':
    'Muy pocos golpes para comparar {blocks} ({shots} y {other}): hacen falta al menos 5 en cada uno para una primera respuesta.',
  'compare.chanceAlone':
    'Aún no se puede decir: con tan pocos golpes, el azar solo hace cualquier diferencia.',
  'compare.alike':
    'Todas las lecturas de un bloque son iguales en {what}, demasiado burdo para juzgar {blocks}.',
  'compare.nothingChanged': 'De {before} a {after} no cambió nada que importe: {what}.',
  'compare.insideMargin': 'Un cambio mayor es improbable: los intervalos del 90 % quedan dentro de eso.',
  'compare.cannotTell': 'Aún no se puede decir si {after} cambió algo frente a {before}.',
  'compare.clearAlone':
    'Aún no es seguro: {n, plural, one {un valor es claro} other {algunos valores son claros}} por sí solos, no entre los {all} mirados.',
  'compare.hidden': 'Aún no se puede decir: la dispersión y el aparato ocultan diferencias de este tamaño.',
  'compare.upTo': 'hasta {by} {way} (unos {about})',
  'compare.between': '{range} {way} (unos {about})',
  'compare.in': 'En {after}',
  'compare.inEarlier': 'En {after}, golpeado antes de {before},',
  'compare.changed': '{where}, {changes} que en {before}.',
  'compare.metricWas': '{metric} {by}',
  'compare.metricBy': '{metric} {by}',
  'compare.traded':
    '{where} más velocidad del palo no llegó a la bola: velocidad del palo {speed} que en {before}, pero eficiencia {efficiency}, y {ball}; con el golpeo de {before} esa velocidad habría dado unos {alike}.',
  'compare.ballNotRecorded': 'lo que ganó la bola no se registró',
  'compare.ballNothing': 'la bola no ganó nada que se vea ({range})',
  'compare.ballOnly': 'la bola ganó solo {range}',
  'compare.backTookAway':
    'Al volver a lo de antes ({block}) desapareció, así que una deriva a lo largo de la clase es improbable.',
  'compare.backStayed':
    'Al volver atrás ({block}) {what} se quedó donde estaba: puede haber práctica, calentamiento o una deriva del día detrás.',
  'compare.backOpen':
    'Volver atrás ({block}) aún no aclara si fue el paso o una deriva: da cinco más de cada manera.',
  'compare.soBefore': 'Era así antes de {before}, y una deriva sola no lo haría.',
  'compare.cameWith': 'Vino con {after}; otras cosas también pueden haber cambiado.',
  'compare.driftLikely':
    'Dentro de los bloques {what} ya se movía en el mismo sentido todo el tiempo, así que puede ser una deriva y no el paso: da cinco como antes una vez más.',
  'compare.driftLikelyPart':
    'Dentro de los bloques {what} ya se movía en el mismo sentido todo el tiempo, así que puede ser una deriva y no el paso: podría hacer {part} de la diferencia; da cinco como antes una vez más.',
  'compare.driftOpen':
    'Los bloques se siguieron uno a otro, y no se puede descartar una deriva constante de {what} a lo largo de la clase: da cinco como antes una vez más.',
  'compare.driftOpenPart':
    'Los bloques se siguieron uno a otro, y no se puede descartar una deriva constante de {what} a lo largo de la clase: podría hacer {part} de la diferencia; da cinco como antes una vez más.',
  'compare.all': 'toda',
  'compare.within': '{metric} dentro de {margin}',
  'compare.lessThan': '{metric} {by} {way}, menos que los {margin} que merecen la pena',
  'compare.looksAlone': '{what}, {but}.',
  'compare.metricLooks': '{metric} parece {by}',
  'compare.goesWithIt': 'lo que encaja con ello; por sí solo no cuenta como seguro',
  'compare.butTooFew':
    'pero {n, plural, one {# golpe} other {# golpes}} en un bloque {n, plural, one {es} other {son}} muy pocos para contar con ello',
  'compare.butByChance': 'pero de {all} valores mirados, uno o dos parecen así por azar: no se cuenta',
  'compare.fits': '{metric} (encaja {span})',
  'compare.open': 'Abierto: {what}.',
  'compare.notClear': 'No está claro: {what}.',
  'compare.muchTheSame': 'Casi igual: {what}.',
  'compare.deviceCould': 'No más de lo que podría hacer el aparato: {what}.',
  'compare.noReadingsOf': 'Sin lecturas de {what}.',
  'compare.scatterTooWide':
    'Los golpes se dispersan demasiado para que un cambio que merezca la pena se vea en una clase.',
  'compare.wouldHaveShown': 'Un cambio de {margin} en {metric} se habría visto 8 de cada 10 veces.',
  'compare.shotsWouldShow':
    'Unos {shots} golpes en cada bloque mostrarían un cambio de {margin} en {metric} 8 de cada 10 veces; fija el número antes de golpear.',
  'compare.allowedFor': 'se miraron {all} valores, y esto lo tiene en cuenta',
  'compare.largerThanScatter': 'mayor que la dispersión y el error del aparato',
  'compare.clear': 'Claro: {why}.',
  'compare.clearDifference': 'La diferencia es clara: {why}. Con qué vino, no.',
  'compare.resemble': 'Los golpes seguidos se parecen; eso se tiene en cuenta.',
  'compare.errorNotKnown': 'El error del aparato no se conoce aquí para cada valor y no se cuenta en ellos.',
  'compare.placedAnew': 'El aparato se colocó de nuevo entre medias; ese error se cuenta.',
  'compare.withoutReading': '{n} sin lectura',
  'compare.toLookAt': '{n} por mirar, incluidos',
  'compare.shotsIn': '{shots} en {block}',
  'compare.shotsInMedian': '{shots} en {block}, mediana {median}',
  'compare.withExtras': '{text} ({extras})',
  'compare.dataRow': '{metric}: {before}; {after}',
  'compare.dataDifference': 'diferencia {range} (95 %)',
  'compare.dataVisible': 'menos de {by} no se distingue de la dispersión',
  'compare.nothingDone': 'Ninguno: nada que comparar.',
  'compare.method':
    '{method}; primero velocidad del palo y eficiencia, después lo que se sigue de ellas ({all} valores en un presupuesto del 5 %). Se habla de cambio si el p ajustado es como mucho 0,05 y la diferencia es mayor de lo que podría hacer el aparato. No se quita nada por ser un mal golpe.',
  'compare.methodPlacedAnew':
    '{method}; primero velocidad del palo y eficiencia, después lo que se sigue de ellas ({all} valores en un presupuesto del 5 %). Se habla de cambio si el p ajustado es como mucho 0,05 y la diferencia es mayor de lo que podría hacer el aparato, contando el colocarlo de nuevo. No se quita nada por ser un mal golpe.',
  'compare.drift': '{publications}; análisis de covarianza para la deriva; {error}',
  'compare.onlyClub': 'Solo se comparó: {club}; no se miró: {others}.',
  'compare.notCounted': 'No contado: {others}.',
  'compare.clubsNotMixed': 'En una comparación nunca se mezclan palos.',
  'compare.sameClub': 'Golpes de un palo contra el mismo palo.',
  'compare.noCommonClub': '{blocks} no tienen golpes con el mismo palo, así que no se pueden comparar.',
  'compare.thereAre': 'Hay {shots}.',

  'spread.steadier':
    '{what}: los golpes de {after} están más juntos que los de {before}, unas {times} veces.',
  'spread.wilder':
    '{what}: los golpes de {after} están más separados que los de {before}, unas {times} veces.',
  'spread.cannotTell':
    'No se puede decir si los golpes se juntaron o se separaron de {before} a {after} en {what}.',
  'spread.hardToShow':
    'No se puede decir: con 10 y 10 golpes hasta una dispersión de la mitad se ve solo en una de cada tres clases.',
  'spread.alike':
    'Todas las lecturas de {what} son iguales en uno de {blocks}, así que no se puede comparar la dispersión.',
  'spread.tooFew': 'Muy pocos golpes para comparar la dispersión de {blocks} en {what}.',
  'spread.shotsNeeded': 'No se puede decir: hacen falta al menos {least} golpes en cada uno, mejor 15.',
  'spread.data': '{club}: {shots} en {before}, {other} en {after}; {numbers}.',
  'spread.metricP': '{metric}: {p}',
  'spread.method':
    'Distancias a la mediana de cada bloque comparadas (prueba F), ajustado sobre {all} (Holm).',

  'regression.expected':
    'Parte del cambio en {metric} era de esperar: el punto de partida fue inusual para este jugador, y unos {by} {way} habrían venido solos.',
  'regression.howSure': 'Una expectativa de bloques anteriores, no una medición.',
  'regression.data': '{blocks}; nivel habitual {level}.',
  'regression.method':
    'Regresión a la media: cuánto de la distancia de un bloque al nivel habitual es dispersión.',

  'cue.differs':
    '{what} fue {by} {way} en los swings marcados con {cue} que en los demás de los mismos bloques. Vino con la señal; eso aún no es una causa.',
  'cue.withinDevice':
    '{what} difiere en {by} en los swings marcados con {cue}, no más de lo que podría hacer el aparato.',
  'cue.cannotTell': 'Aún no se puede decir si los swings marcados con {cue} difieren en {what}.',
  'cue.cannotTellYet': 'Aún no se puede decir ({swings}).',
  'cue.isBlock':
    '{cue} está en todos los swings de su bloque o en ninguno: señal y bloque son aquí lo mismo, así que no hay comparación de {what} por la señal.',
  'cue.tagSome': 'No se puede decir: marca algunos swings de un bloque y otros no, o ve y vuelve.',
  'cue.noPairs': 'No hay en un mismo bloque swings con {cue} y sin ella para comparar {what}.',
  'cue.data': '{tagged}, {untagged} sin marcar, {pairs} dentro de {blocks}; {p}.',
  'cue.method':
    'Solo diferencias dentro del mismo bloque y palo; p de todas las nuevas marcas posibles dentro de los bloques, exacto; ajustado sobre los {all} valores mostrados (Holm).',

  'kept.notComparable':
    '{previous} y {current} no se pueden comparar: hacen falta dos bloques en la clase anterior y uno en esta, con el mismo palo.',
  'kept.data': '{club}: {n} golpes de {first} y {m} de {last} ({day}), {k} de {now} ({today}).',
  'kept.dataWarmUp':
    '{club}: {n} golpes de {first} y {m} de {last} ({day}), {k} de {now} ({today}); los primeros {warmUp} golpes de cada primer bloque son calentamiento.',
  'kept.method':
    'Parte de la ganancia que sigue ahí, con el intervalo de Fieller; el veredicto tiene en cuenta todos los valores mostrados (Bonferroni) y el colocar de nuevo el aparato.',
  'kept.tooFew':
    '{what}: muy pocos golpes para decir qué quedó de la última clase (hacen falta 8 en cada bloque).',
  'kept.noGain': '{what}: sin ganancia clara en la última clase, así que no hay nada que conservar o perder.',
  'kept.noClearGain': 'Sin ganancia clara.',
  'kept.noneClear':
    'Ninguna es clara cuando se cuentan todas; cada una por sí sola: {gains} (intervalos del 95 %).',
  'kept.gainOf': '{metric} {range}',
  'kept.stillThere': '{what} fue {gain} {way} en la última clase, y sigue ahí: {share}.',
  'kept.halfKept': 'Seguro que quedó al menos la mitad.',
  'kept.mostGone':
    '{what} fue {gain} {way} en la última clase, y la mayor parte se fue; lo que queda es {share}.',
  'kept.lessKept': 'Seguro que quedó menos de la mitad.',
  'kept.cannotTell': '{what} fue {gain} {way} en la última clase; aún no se puede decir cuánto sigue ahí.',
  'kept.cannotTellYet': 'Aún no se puede decir: {share}.',
  'kept.withinSetUp':
    '{what} fue {gain} {way} en la última clase, no más de lo que podría hacer colocar de nuevo el aparato (hasta {floor}), así que no se puede seguir de clase en clase.',
  'kept.setUpError': 'No se distingue del error de colocación.',
  'kept.all': 'todo o más',
  'kept.about': 'alrededor del {share}',
  'kept.interval': '{share} (intervalo del 95 %: {low} a {high})',

  'plan.nothing': 'No se registró nada que se pudiera comparar {between}.',
  'plan.between': 'desde el final de la clase del {planned} hasta el principio de la del {shown}',
  'plan.cannotTell': 'Aún no se puede decir si {what} cambió {between}.',
  'plan.hidden':
    'No se puede decir: la dispersión, el aparato y el colocarlo de nuevo ocultan una diferencia de este tamaño.',
  'plan.tooFew': 'Muy pocos golpes para decir si {what} cambió {between}.',
  'plan.shotsNeeded': 'No se puede decir: hacen falta al menos 5 golpes a cada lado.',
  'plan.changed':
    '{what} fue {by} {way} al principio de la clase del {shown} que al final de la clase del {planned} (intervalo del 95 %: {interval}). Vino después de la práctica; otras cosas también pueden haber cambiado.',
  'plan.clear':
    'Claro: {numbers} y el aparato colocado de nuevo, y esto tiene en cuenta las dos cosas. Es una pregunta propia, aparte de las de la clase.',
  'plan.withinDevice':
    '{what} fue {by} {way} al principio de la clase del {shown} que al final de la clase del {planned}, pero solo colocar de nuevo el aparato podría hacer hasta {floor}.',
  'plan.held': '{what} se mantuvo {between}, con un margen de {margin}.',
  'plan.insideMargin': 'Un cambio mayor es improbable (intervalo del 90 % dentro de ese margen).',
  'plan.noReadings': '{club}: sin lecturas a ambos lados.',
  'plan.data': '{club}: {shots} del último bloque de antes, {after} del primer bloque de después.',

  'season.tooEarly': '{what}: {lessons}, demasiado pronto para una tendencia.',
  'season.lessonsNeeded': 'Aún no se puede decir: hacen falta al menos {least} clases.',
  'season.cannotTell': 'Aún no se puede decir si {what} sube o baja a lo largo de la temporada.',
  'season.fits':
    'No se puede decir: un cambio de {interval} al mes encaja con las clases (intervalo del 95 %).',
  'season.trend': 'A lo largo de la temporada {what} fue {by} {way} al mes (intervalo del 95 %: {interval}).',
  'season.alike': 'Las clases no se diferencian en {what} más allá de la dispersión de los golpes.',
  'season.noneStandsOut': 'Ninguna clase destaca.',
  'season.best': 'Mejor marca personal en {what}: {level} el {day}, descontada la suerte.',
  'season.bestNotClear':
    'El nivel más alto de {what} fue {level} el {day}, descontada la suerte, pero no destaca del siguiente más que por azar.',
  'season.bestClear': 'Claro: más que la dispersión y el error de colocación.',
  'season.luck': 'No se distingue de la suerte.',
  'season.dayLabel': '{day} ({label})',
  'season.data': '{club}: {lessons}, {shots}',
  'season.dataP': '{data}; {p}.',
  'season.method':
    'Centro de cada clase a lo largo de los días: mediana de todas las pendientes por pares con su intervalo, p de Mann-Kendall, ajustado sobre {numbers} (Holm).',
  'season.bestMethod':
    'La media de cada clase acercada a la media de todas según la parte que es dispersión; una mejor marca cuenta si destaca de todas las demás clases, contando el colocar de nuevo el aparato.',

  'session.notRecordedMany': '{what}: no se registraron, así que no se puede decir nada.',
  'session.efficiencyNeeds': 'La eficiencia necesita velocidad del palo y de la bola del mismo golpe.',
  'session.method':
    'Si cambió: prueba de rangos para un cambio de nivel, p por permutación (Pettitt), ajustado con las demás pruebas de la clase (Holm). Dónde: probabilidad de cada lugar, tramo que contiene el 90 %.',
  'session.data': '{readings}, {p}',
  'session.ofClub': '{club}, {shots} de la clase',
  'session.tooFew': 'Muy pocos golpes para decir si {what} cambió dentro de la clase y dónde.',
  'session.shotsNeeded': 'No se puede decir: hacen falta al menos {least} golpes.',
  'session.alike': 'Todas las lecturas de {what} son iguales, así que no se puede situar ningún cambio.',
  'session.steady': 'Golpe a golpe, no destaca ningún escalón en {what}.',
  'session.noProof': 'Eso no demuestra que nada cambiara.',
  'session.rose':
    '{what} subió poco a poco durante la clase, más como una cuesta que como un escalón: la parte final fue {by} {way}.',
  'session.fell':
    '{what} bajó poco a poco durante la clase, más como una cuesta que como un escalón: la parte final fue {by} {way}.',
  'session.moved': 'Claro que se movió; no dónde.',
  'session.somewhere': 'en algún punto hacia la mitad de la clase',
  'session.after': 'después del golpe {shot}',
  'session.between': 'entre el golpe {from} y el golpe {to}',
  'session.withStart': 'Vino con el principio de {block}.',
  'session.thatIsIn': 'Eso está en {blocks}.',
  'session.firstTagged': 'Marcado allí por primera vez: {cues}.',
  'session.changed': '{what} cambió {place}: desde ahí {by} {way}.',
  'session.clearRange': 'Claro que cambió; el lugar verdadero está en ese tramo con el 90 %.',

  'speed.notRecorded':
    'La velocidad de juego necesita velocidad del palo y de la bola de los mismos golpes; no se registraron las dos, así que no se puede decir nada de ella.',
  'speed.strikeCosts': 'Aquí el golpeo cuesta más que la velocidad: trabaja el golpeo.',
  'speed.strikeFirst': 'Mira el golpeo antes de probar otras velocidades.',
  'speed.toHit':
    'Para averiguarlo, da unos {shots} golpes más, un tercio con cada esfuerzo: {efforts} (aproximadamente {speeds}).',
  'speed.tooFew':
    '{n, plural, one {# golpe es} other {# golpes son}} muy pocos para encontrar la velocidad de juego.',
  'speed.shotsNeeded': 'No se puede decir: hacen falta al menos 12 golpes, y vale la pena esperar a 20.',
  'speed.alike':
    'La velocidad de juego aún no se puede encontrar: estos swings apenas se diferencian en velocidad más de lo que yerra el aparato.',
  'speed.disagree':
    'Los golpes no coinciden en una velocidad de juego: no hay margen suficiente para decirlo.',
  'speed.noRange': 'No se puede decir: no hay margen suficiente de velocidades.',
  'speed.stillRising':
    'La velocidad de la bola siguió subiendo con la del palo hasta {fastest}: no se encontró límite en estos swings. Eso solo no es razón para pegar más fuerte; la dirección, el cuerpo y la seguridad van primero.',
  'speed.falling':
    'La velocidad de la bola fue mayor en los swings más lentos: más velocidad del palo vino con golpeos tan peores que no se ganó nada.',
  'speed.noRangeInside': 'No hay margen suficiente para decir la velocidad de juego.',
  'speed.mild':
    'La mejor velocidad no se puede situar con precisión: {band}, la velocidad de la bola queda a menos del 1 % de la mejor. Toma el extremo lento, unos {slower}.',
  'speed.mildWorse':
    'La mejor velocidad no se puede situar con precisión: {band}, la velocidad de la bola queda a menos del 1 % de la mejor. Toma el extremo lento, unos {slower}; los swings más rápidos se alejaron más de la dirección habitual.',
  'speed.mildBend': 'La curva es suave: la mejor velocidad está en algún punto {range}.',
  'speed.best':
    'Tu velocidad de juego: {range}; ahí la velocidad de la bola es mejor. Tu swing más rápido, {fastest}, no dio más velocidad de la bola de media.',
  'speed.bestWorse':
    'Tu velocidad de juego: {range}; ahí la velocidad de la bola es mejor, y por encima empeora la dirección. Tu swing más rápido, {fastest}, no dio más velocidad de la bola de media.',
  'speed.resampling': 'El remuestreo coincide.',
  'speed.liesAt': 'La mejor velocidad está {range} (intervalo del 95 %).',
  'speed.shots': '{shots} con velocidad del palo y de la bola',
  'speed.more': 'el {share} de la variación de la velocidad del palo es más que error de lectura',
  'speed.method':
    'Eficiencia frente a velocidad del palo, ajuste curvo sobre todos los golpes, también los malos; la velocidad con la mayor velocidad de la bola esperada, nunca fuera de lo golpeado; 2.000 remuestreos deben coincidir al 95 %.',
  'direction.worse': 'Los swings más rápidos se alejaron más de la dirección habitual.',
  'direction.better': 'Los swings más rápidos estuvieron más cerca de la dirección habitual.',
  'direction.cannotTell': 'No se puede decir si la dirección empeora con la velocidad.',
  'direction.tooFew': 'Muy pocos golpes con dirección ({n}) para compararla con la velocidad.',
  'direction.shotsNeeded': 'Hacen falta al menos 10 golpes.',
  'direction.notRecorded': 'La dirección no se registró, así que esto trata solo de la velocidad de la bola.',
  'direction.correlation': '{shots}, correlación de rangos {r} (intervalo del 95 %: {low} a {high}).',
  'direction.method':
    'Correlación de rangos de la velocidad del palo con la distancia a la dirección mediana (Spearman).',

  'held.about': 'unos {amount}',
  'held.levelBelow': 'eficiencia {own}, unos {reach} están al alcance',
  'held.levelAtReach': 'eficiencia {own}, tan alta como cabe esperar',
  'held.strikeWorth': 'un golpeo así a la velocidad de hoy valdría {gain} de vuelo',
  'held.speedWorth': '{more} más de velocidad del palo con el golpeo de hoy, unos {gain}',
  'held.strike': 'Lo que frena el vuelo es el golpeo, no la velocidad: {level}; {strike}, {speed}.',
  'held.speed':
    'Lo que frena el vuelo es la velocidad, no el golpeo: el golpeo es bastante bueno ({level}), {more} más de velocidad del palo con este golpeo valdrían unos {gain} de vuelo.',
  'held.cannotTell': 'Aún no se puede decir qué frena el vuelo ({level}): {strike}, {speed}.',
  'held.strikeFirst': 'Mira el golpeo antes de trabajar la velocidad.',
  'held.tooClose':
    'Están demasiado cerca, o lo que está al alcance es demasiado incierto, para que más golpes solos lo aclaren.',
  'held.wouldSettle': 'Unos {shots} golpes más lo aclararían 8 de cada 10 veces.',
  'held.notSure': 'No es seguro.',
  'held.notSureYet': 'Aún no es seguro; unos {shots} golpes más lo dirían.',
  'held.nearlyCertain': 'Más de 95 de cada 100 según estos golpes y los errores supuestos del aparato.',
  'held.chances': 'Unos {tenths} de cada 10 según estos golpes y los errores supuestos del aparato.',
  'held.restsOnOwn': 'Se apoya solo en los golpes de este jugador.',
  'held.restsOnFormula':
    'Se apoya en una fórmula de lo que puede dar {club}; no se conoce ninguna media publicada.',
  'held.restsOnAverage': 'Se apoya en la media de los mejores jugadores con {club}, citada de memoria.',
  'held.oddReadings': '{n, plural, one {Se excluyó # lectura rara.} other {Se excluyeron # lecturas raras.}}',
  'held.unitsWrong':
    'Sin veredicto: la velocidad de la bola y la del palo no encajan con {club}; las unidades o las columnas parecen equivocadas.',
  'held.checkUnits': 'No se dice nada de golpeo o velocidad hasta que se revisen las unidades.',
  'held.deviceWrong':
    'Sin veredicto: {above} de {of} golpes están por encima de lo que puede dar {club}; el aparato parece leer mal la velocidad del palo, o las unidades parecen equivocadas.',
  'held.deviceWrongLimit':
    'Sin veredicto: {above} de {of} golpes están por encima de lo que puede dar {club} ({limit}); el aparato parece leer mal la velocidad del palo, o las unidades parecen equivocadas.',
  'held.checkDevice': 'No se dice nada de golpeo o velocidad hasta que se revisen el aparato o las unidades.',
  'held.noShots': 'Aún no hay golpes, así que no se pueden comparar golpeo y velocidad.',
  'held.severalClubs': 'Estos golpes mezclan varios palos; golpeo y velocidad se comparan palo por palo.',
  'held.noSpeeds':
    'Ningún golpe tiene velocidad del palo y de la bola, así que no se pueden decir la eficiencia, la velocidad de juego ni qué frena el vuelo.',
  'held.speedsNotUsed':
    'En cada golpe con velocidad del palo y de la bola, una de las dos no puede ser y no contó, así que no se pueden decir la eficiencia, la velocidad de juego ni qué frena el vuelo; revise el aparato o las unidades.',
  'held.tooFew':
    'Aún no se puede decir: {n} {n, plural, one {golpe útil es} other {golpes útiles son}} muy pocos; {more} más con {club} darían una primera respuesta.',
  'held.noCeiling': 'No se puede decir: {reason}.',
  'held.noCeilingKnown': 'no se conoce ningún techo',
  'held.noCarry': 'No se puede decir en vuelo: {reason}.',
  'held.notComputed': 'No calculado.',
  'held.notComputedYet':
    'No calculado; {n} {n, plural, one {golpe más daría} other {golpes más darían}} una primera respuesta.',
  'held.shots': '{n, plural, one {# golpe} other {# golpes}} con {club}',
  'held.shotsLeftOut':
    '{n, plural, one {# golpe} other {# golpes}} con {club}, {leftOut} excluidos (sin velocidad del palo o de bola, o una lectura imposible)',
  'held.assumedGain':
    'supuesto: el 3 % de la velocidad del palo de hoy; no se pudo confirmar ningún valor publicado',
  'held.gainByCoach': 'el {percent} % de la velocidad del palo de hoy, fijado por el entrenador',
  'held.data': '{data}; {launch}.',
  'held.method':
    'Al alcance: {reach} ± {sd}, {basis}. Ganancia de velocidad: {gainBasis}. Se pregunta si la brecha del golpeo es mayor que lo que daría la velocidad ({worth}) y que lo que merece la pena ({margin}). Brecha {gap} ± {gapSd}. Convertido en vuelo por el modelo de vuelo con la salida y el efecto medios del bloque.',
  'held.source':
    'Choque de dos cuerpos y medias del circuito por palo (de memoria), vuelo según Quintavalla 2002 con efecto limitado, equivalencia con margen según Schuirmann 1987; los errores del aparato son supuestos que el entrenador puede cambiar.',

  'carry.asRecorded': 'salida y efecto tal como se registraron',
  'carry.assumed': '{what}, supuestos: {basis}',
  'carry.assumedLaunch': 'salida de {launch}° ± {sd}°',
  'carry.assumedSpin': 'efecto de {spin} ± {sd} rpm',
  'carry.betweenClubs':
    'entre las medias del circuito masculino con los palos vecinos (supuesto), dispersión supuesta',
  'carry.launchAngle': 'ángulo de salida',
  'carry.noTypical': 'no se registró {what}, y no se conoce un valor habitual para {club}',
  'carry.spin': 'efecto',
  'carry.tourAverage': 'media del circuito masculino (muy reproducida, de memoria), dispersión supuesta',
  'ceiling.average':
    'media del circuito masculino con {club} (de memoria), un techo blando; la fórmula da {formula}',
  'ceiling.averageAtLoft':
    'media del circuito masculino con {club} con este loft (de memoria), un techo blando; la fórmula da {formula}',
  'ceiling.formula':
    'fórmula de dos cuerpos para {club} con cabeza y loft supuestos; no se conoce ninguna media publicada',
  'ceiling.lightHead': '{basis}, para una cabeza ligera',
  'ceiling.ownBest': 'lo mejor de {n} golpes propios de este jugador con {club}, sin el error del aparato',
  'ceiling.putter': 'un putter no tiene aquí techo de eficiencia',
  'ceiling.raised': '{basis}; elevado por lo que este jugador ha mostrado en {n} golpes ({level})',
  'ceiling.unknown':
    'no se conoce ningún techo para {club}; {needed} golpes propios darían uno ({own} hasta ahora)',
  'lesson.computedCarry':
    '{data} El aparato no dio vuelo con {clubs}, así que se calcula con velocidad de bola, salida y efecto.',
  'text.anUnknownClub': 'un palo desconocido',
  'text.club': '{club}',

  'caution.speed':
    'Antes de trabajar la velocidad: calienta en movimiento, aumenta el volumen despacio, guarda espacio a tu alrededor y para si duele; las molestias previas de espalda, muñeca, codo, hombro o rodilla, primero a un profesional médico.',

  'works.cue': 'la señal {cue}',
  'works.student': 'Alumno {n}',
  'works.notRecordedShort': 'no registrado',
  'works.tooFewShort': '{students}, muy pocos para decir algo',
  'works.notRecorded':
    '{what}: no se registró en el punto de partida y con {focus}, al menos tres golpes en cada uno.',
  'works.tooFew': '{what} con {focus}: {students} hasta ahora; a partir de {least} se puede decir algo.',
  'works.short': '{sameWay} de {all} alumnos, {by} ({span})',
  'works.next': 'Un alumno más como estos puede encontrar {range}.',
  'works.allowed': '{numbers} en esta lista, y esto lo tiene en cuenta.',
  'works.cameWith':
    'Con {focus} {what} fue {way} que en el punto de partida en {sameWay} de {all} alumnos: {by} (intervalo del 95 %: {span}).',
  'works.clear': 'Claro que vino con ello, no que viniera de ello: {allowed}',
  'works.noOtherBlocks':
    'Menos de {least} alumnos tenían otro bloque después del punto de partida con que compararlo, así que contiene también lo que trae cualquier bloque posterior.',
  'works.asOthers':
    'Con {focus} {what} fue {way} que en el punto de partida, {by} (intervalo del 95 %: {span}), pero no claramente distinto de los otros bloques de las mismas clases después del punto de partida (la diferencia es {apart}).',
  'works.asAnyBlock': 'No se distingue de lo que trae cualquier bloque después del punto de partida.',
  'works.cannotTell':
    'Aún no se puede decir si {what} difiere con {focus}: {by} (intervalo del 95 %: {span}), en el mismo sentido en {sameWay} de {all} alumnos.',
  'works.cannotTellYet': 'Aún no se puede decir: {allowed}',
  'works.chosen': 'Un foco se da a quienes parecen necesitarlo. Otros pueden no responder así.',
  'works.slowStart':
    'Un principio lento por azar mejora solo (regresión a la media), y los swings posteriores se diferencian de los primeros sea cual sea el foco: el cambio es lo que vino con él, no lo que él hizo.',
  'works.fewStudents':
    'Pocos alumnos ({most} como mucho): los intervalos son anchos, y un alumno más puede moverlos.',
  'works.leftOut': '{students} excluidos: el consentimiento de la ficha no permite conservar, o ha caducado.',
  'works.method':
    'Por alumno: media de los golpes con el foco o la señal menos la media del punto de partida, dentro de las mismas clases y con el mismo palo, clases ponderadas por sus golpes. Juntos: efectos aleatorios, varianza entre alumnos por REML, intervalo de Hartung-Knapp. Un presupuesto del 5 % para {numbers} en esta lista (Holm); el presupuesto de ninguna clase entra en él. Mirado: {metrics}.',

  'strike.notRecorded': 'No se registró ningún lugar en la cara del palo, así que no hay mapa de impactos.',
  'strike.firstImpression': '{strikes} en el mapa: una primera impresión, no un patrón.',
  'strike.strikesNeeded': 'Aún no se puede decir: hacen falta al menos 8 impactos.',
  'strike.ellipse': 'el 95 % de los próximos impactos cae en una elipse de unos {width} por {height} mm',
  'strike.off': 'Los impactos están {off} desde {spot}; {ellipse}.',
  'strike.clearOff': 'Claro que el centro del patrón está desviado.',
  'strike.noBias': 'No se puede mostrar desviación desde {spot}; {ellipse}.',
  'strike.centredUnsure': 'Que los impactos estén centrados no se puede decir con seguridad.',
  'strike.bestSpot': 'el mejor punto del jugador hasta ahora',
  'strike.faceCentre': 'el centro de la cara',
  'strike.ofBestSpot':
    'Mejor punto: el medio del mejor cuarto de {strikes} en clases anteriores, {off} del centro de la cara.',
  'strike.ofFaceCentre':
    'Las distancias cuentan desde el centro de la cara; a partir de 20 impactos de clases anteriores, desde el mejor punto del jugador.',
  'strike.toe': '{mm} mm hacia la punta',
  'strike.heel': '{mm} mm hacia el talón',
  'strike.high': '{mm} mm por arriba',
  'strike.low': '{mm} mm por abajo',
  'strike.middle': 'a menos de 1 mm',
  'strike.data': '{club}: {strikes} con un lugar en la cara',
  'strike.dataBias': '{data}; desviación {p}. {origin}',
  'strike.ellipseMethod':
    'Elipse en la que cae el 95 % de los próximos impactos (factor F para pocos golpes); desviación por la prueba de Hotelling.',
  'strike.lossData': '{strikes} con eficiencia. {origin}',
  'strike.lossMethod':
    'Mínimos cuadrados de la eficiencia sobre la distancia al cuadrado desde el punto, fijado de antemano.',
  'strike.lossSource':
    'mínimos cuadrados ordinarios; cuerpo rígido: la pérdida crece con el cuadrado de la distancia',
  'strike.falls': 'A 10 mm desde {spot} la eficiencia es unos {loss} más baja.',
  'strike.fallsInterval': 'Intervalo del 95 %: {low} a {high} más baja.',
  'strike.cannotTell': 'Aún no se puede decir cuánto baja la eficiencia con la distancia desde {spot}.',
  'strike.tooFew': 'Muy pocos impactos con eficiencia ({n}) para ver cómo baja con la distancia.',
  'strike.lossNeeded': 'No se puede decir: hacen falta al menos 10.',
  'strike.lossNotRecorded':
    'Con estos impactos no se registró la eficiencia, así que no se puede decir lo que cuesta un fallo.',

  'metric.efficiency': 'eficiencia',
  'metric.clubSpeedMps': 'velocidad del palo',
  'metric.ballSpeedMps': 'velocidad de la bola',
  'metric.launchDeg': 'ángulo de salida',
  'metric.launchDirectionDeg': 'dirección de salida',
  'metric.spinRpm': 'efecto',
  'metric.spinAxisDeg': 'eje del efecto',
  'metric.carryM': 'vuelo',
  'metric.totalM': 'distancia total',
  'metric.sideM': 'desvío lateral',
  'metric.apexM': 'altura',
  'metric.descentDeg': 'ángulo de caída',
  'metric.flightSeconds': 'tiempo de vuelo',
  'metric.attackDeg': 'ángulo de ataque',
  'metric.clubPathDeg': 'trayectoria del palo',
  'metric.faceDeg': 'ángulo de la cara',
  'metric.dynamicLoftDeg': 'loft en el impacto',
  'metric.impactXMm': 'impacto de talón a punta',
  'metric.impactYMm': 'impacto de abajo arriba',
  'metric.tempoRatio': 'ritmo',
  'metric.backswingSeconds': 'tiempo de subida',
  'metric.downswingSeconds': 'tiempo de bajada',
  'metric.braceBeforeImpactSeconds': 'apoyo antes del impacto',
  'metric.leadKneeSetupDeg': 'rodilla delantera en la colocación',
  'metric.leadKneeTopDeg': 'rodilla delantera arriba',
  'metric.leadKneeImpactDeg': 'rodilla delantera en el impacto',
  'metric.leadKneeStraighteningDegPerS': 'extensión de la rodilla delantera',
  'metric.headAlongTopWidths': 'cabeza a lo largo de la línea, colocación a arriba',
  'metric.headAlongImpactWidths': 'cabeza a lo largo de la línea, de la colocación al impacto',
  'metric.headUpImpactWidths': 'cabeza hacia arriba, colocación a impacto',
  'metric.pelvisAlongImpactWidths': 'pelvis a lo largo de la línea, de la colocación al impacto',
  'metric.pelvisStopSeconds': 'pelvis a media velocidad antes del impacto',
  'metric.spineTiltSetupDeg': 'inclinación lateral de la columna en la colocación',
  'metric.spineTiltImpactDeg': 'inclinación lateral de la columna en el impacto',
  'metric.spineBendSetupDeg': 'inclinación adelante de la columna en la colocación',
  'metric.spineBendImpactDeg': 'inclinación adelante de la columna en el impacto',
  'metric.shoulderLineImpactDeg': 'línea de hombros en el impacto',
  'metric.pelvisLineImpactDeg': 'línea de la pelvis en el impacto',
  'metric.leadArmTopDeg': 'brazo delantero arriba',
  'metric.leadElbowTopDeg': 'codo delantero arriba',
  'metric.shoulderRiseTopWidths': 'hombros hacia las orejas, colocación a arriba',
}
