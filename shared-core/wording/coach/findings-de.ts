import type { SpokenKey } from './spoken.ts'

/** What is found in a lesson, in German. Machine-assisted; no speaker has read it yet. */
export const findingsDe: Record<SpokenKey, string> = {
  'text.quoted': '„{label}“',
  'text.nothing': 'so gut wie nichts',
  'text.nothingEitherWay': 'so gut wie nichts in beide Richtungen',
  'text.noDifference': 'kein Unterschied',
  'text.fromTo': '{low} bis {high}',
  'text.byWay': '{by} {way}',
  'text.noP': 'kein p',
  'text.smallP': 'p unter 0,001',
  'text.p': 'p {p}',
  'text.adjustedP': '{p}, bereinigt {adjusted}',
  'text.efficiencyNotRecorded':
    'Effizienz braucht Schläger- und Ballgeschwindigkeit desselben Schlags; beide wurden nicht aufgezeichnet, deshalb lässt sich nichts dazu sagen.',
  'text.notRecorded': '{what} wurde nicht aufgezeichnet, deshalb lässt sich nichts dazu sagen.',
  'text.inBlock': '{kind} in {block}',
  'text.inBlockByCoach': '{kind} in {block} (vom Coach ausgelassen)',
  'text.noShots': 'Keine Schläge.',
  'text.stop': '{text}.',
  'text.ofClub': '{club}: {text}.',
  'text.noClub': 'die Schläge ohne Schlägernamen',
  'text.theClub': 'Schläger {club}',
  'text.none': 'Keine.',
  'text.assumedError':
    'Gerätefehler: angenommen, vom Coach zu ändern (kein veröffentlichter Wert des Geräts ließ sich bestätigen)',
  'text.sourceAndError': '{publications}; {error}',
  'text.blocks': '{before} und {after}',
  'text.of': '{label}: {text}',

  'count.shot': '{n, plural, one {# Schlag} other {# Schläge}}',
  'count.clubShot': '{n, plural, one {# Schlag} other {# Schläge}} mit {club}',
  'count.shotOfUnknownClub': '{n, plural, one {# Schlag} other {# Schläge}} mit unbekanntem Schläger',
  'count.strike': '{n, plural, one {# Treffer} other {# Treffer}}',
  'count.block': '{n, plural, one {# Abschnitt} other {# Abschnitte}}',
  'count.earlierBlock': '{n, plural, one {# früherer Abschnitt} other {# frühere Abschnitte}}',
  'count.pair': '{n, plural, one {# Paar} other {# Paare}}',
  'count.taggedSwing': '{n, plural, one {# markierter Schwung} other {# markierte Schwünge}}',
  'count.lesson': '{n, plural, one {# Stunde} other {# Stunden}}',
  'count.student': '{n, plural, one {# Schüler} other {# Schüler}}',
  'count.number': '{n, plural, one {# Wert} other {# Werte}}',
  'count.reading': '{n, plural, one {# Messung} other {# Messungen}}',

  'way.faster': 'schneller',
  'way.slower': 'langsamer',
  'way.longer': 'länger',
  'way.shorter': 'kürzer',
  'way.earlier': 'früher',
  'way.later': 'später',
  'way.straighter': 'gestreckter',
  'way.moreBent': 'stärker gebeugt',
  'way.towardTarget': 'weiter zum Ziel hin',
  'way.fromTarget': 'weiter vom Ziel weg',
  'way.higher': 'höher',
  'way.lower': 'niedriger',

  'sure.notRecorded': 'Nicht aufgezeichnet.',
  'sure.notCompared': 'Es wurde nichts verglichen.',
  'sure.cannotTell': 'Lässt sich nicht sagen.',
  'sure.cannotTellYet': 'Lässt sich noch nicht sagen.',
  'sure.clear': 'Eindeutig.',
  'sure.clearAmong': 'Eindeutig: {numbers} angesehen, und das ist berücksichtigt.',
  'sure.deviceError': 'Lässt sich vom Gerätefehler nicht trennen.',
  'sure.fewDigits': 'Lässt sich nicht sagen: Das Gerät gibt zu wenige Stellen an.',
  'sure.hitSpeedsOnly': 'Eindeutig für die geschlagenen Geschwindigkeiten, und nur für diese.',

  'caution.swing':
    'Zuerst aufwärmen und langsam steigern. Aufhören, wenn etwas wehtut; bei einer Verletzung vor dem Tempotraining medizinisches Fachpersonal fragen. Auf den Platz ringsum achten und die Regeln der Anlage einhalten.',

  'compare.noReadings':
    '{what} lässt sich zwischen {blocks} nicht vergleichen: In einem davon fehlen die Messungen.',
  'compare.nothingToCompare': '{blocks} haben keine Messungen, die sich vergleichen ließen.',
  'compare.firstImpression':
    '{n, plural, one {# Schlag} other {# Schläge}} in {block} {n, plural, one {ist} other {sind}} ein erster Eindruck, kein Niveau.',
  'compare.looks': '{what} wirkt in {after} {by} {way} als in {before}, aber {impression}',
  'compare.hitMore': 'Erst mehr schlagen, bevor darauf gebaut wird.',
  'compare.notYetSure': 'Noch nicht sicher: {impression}',
  'compare.tooFew':
    'Zu wenige Schläge, um {blocks} zu vergleichen ({shots} und {other}): Für eine erste Antwort braucht es mindestens 5 in jedem.',
  'compare.chanceAlone':
    'Lässt sich noch nicht sagen: Bei so wenigen Schlägen macht schon der Zufall jeden Unterschied.',
  'compare.alike':
    'Alle Messungen eines Abschnitts sind bei {what} gleich; das ist zu grob, um {blocks} zu beurteilen.',
  'compare.nothingChanged': 'Von {before} zu {after} hat sich nichts verändert, was zählen würde: {what}.',
  'compare.insideMargin': 'Eine größere Veränderung ist unwahrscheinlich: Die 90-%-Intervalle liegen darin.',
  'compare.cannotTell': 'Ob {after} gegenüber {before} etwas verändert hat, lässt sich noch nicht sagen.',
  'compare.clearAlone':
    'Noch nicht sicher: {n, plural, one {ein Wert ist} other {einige Werte sind}} für sich allein eindeutig, nicht unter den {all} angesehenen.',
  'compare.hidden': 'Lässt sich noch nicht sagen: Streuung und Gerät verdecken Unterschiede dieser Größe.',
  'compare.upTo': 'bis zu {by} {way} (etwa {about})',
  'compare.between': '{range} {way} (etwa {about})',
  'compare.in': 'In {after}',
  'compare.inEarlier': 'In {after}, geschlagen vor {before},',
  'compare.changed': '{where} war {changes} als in {before}.',
  'compare.metricWas': '{metric} {by}',
  'compare.metricBy': '{metric} {by}',
  'compare.traded':
    '{where} kam mehr Schlägergeschwindigkeit nicht beim Ball an: Schlägergeschwindigkeit war {speed} als in {before}, aber Effizienz {efficiency}, und {ball}; mit dem Treffen aus {before} hätte dieses Tempo etwa {alike} gebracht.',
  'compare.ballNotRecorded': 'was der Ball gewann, wurde nicht aufgezeichnet',
  'compare.ballNothing': 'der Ball gewann nichts, was sich zeigt ({range})',
  'compare.ballOnly': 'der Ball gewann nur {range}',
  'compare.backTookAway':
    'Mit dem Zurückgehen zum Bisherigen ({block}) war es wieder weg; eine Drift über die Stunde ist also unwahrscheinlich.',
  'compare.backStayed':
    'Beim Zurückgehen ({block}) blieb {what}, wo es war: Übung, Aufwärmen oder eine Drift des Tages können dahinterstehen.',
  'compare.backOpen':
    'Das Zurückgehen ({block}) klärt noch nicht, ob es der Schritt oder eine Drift war: je fünf mehr auf beide Arten schlagen.',
  'compare.soBefore': 'So war es vor {before}, und eine Drift allein würde das nicht machen.',
  'compare.cameWith': 'Es kam mit {after}; anderes kann sich auch verändert haben.',
  'compare.driftLikely':
    'Innerhalb der Abschnitte bewegte sich {what} schon die ganze Zeit in dieselbe Richtung, es kann also eine Drift sein und nicht der Schritt: noch einmal fünf wie vorher schlagen.',
  'compare.driftLikelyPart':
    'Innerhalb der Abschnitte bewegte sich {what} schon die ganze Zeit in dieselbe Richtung, es kann also eine Drift sein und nicht der Schritt: Sie könnte {part} des Unterschieds machen; noch einmal fünf wie vorher schlagen.',
  'compare.driftOpen':
    'Die Abschnitte folgten aufeinander, und eine stetige Drift von {what} über die Stunde lässt sich nicht ausschließen: noch einmal fünf wie vorher schlagen.',
  'compare.driftOpenPart':
    'Die Abschnitte folgten aufeinander, und eine stetige Drift von {what} über die Stunde lässt sich nicht ausschließen: Sie könnte {part} des Unterschieds machen; noch einmal fünf wie vorher schlagen.',
  'compare.all': 'alles',
  'compare.within': '{metric} innerhalb von {margin}',
  'compare.lessThan': '{metric} {by} {way}, weniger als die {margin}, die sich lohnen',
  'compare.looksAlone': '{what}, {but}.',
  'compare.metricLooks': '{metric} wirkt {by}',
  'compare.goesWithIt': 'was dazu passt; für sich allein zählt es nicht als sicher',
  'compare.butTooFew':
    'aber {n, plural, one {# Schlag} other {# Schläge}} in einem Abschnitt {n, plural, one {ist} other {sind}} zu wenig, um darauf zu zählen',
  'compare.butByChance':
    'aber von {all} angesehenen Werten wirken ein oder zwei durch Zufall so: nicht gezählt',
  'compare.fits': '{metric} ({span} passt)',
  'compare.open': 'Offen: {what}.',
  'compare.notClear': 'Nicht eindeutig: {what}.',
  'compare.muchTheSame': 'Weitgehend gleich: {what}.',
  'compare.deviceCould': 'Nicht mehr, als das Gerät machen könnte: {what}.',
  'compare.noReadingsOf': 'Keine Messungen von {what}.',
  'compare.scatterTooWide':
    'Die Schläge streuen zu weit, als dass eine lohnende Veränderung in einer Stunde zu sehen wäre.',
  'compare.wouldHaveShown':
    'Eine Veränderung von {margin} bei {metric} hätte sich in 8 von 10 Fällen gezeigt.',
  'compare.shotsWouldShow':
    'Etwa {shots} Schläge in jedem Abschnitt würden eine Veränderung von {margin} bei {metric} in 8 von 10 Fällen zeigen; die Zahl vor dem Schlagen festlegen.',
  'compare.allowedFor': '{all} Werte wurden angesehen, und das ist berücksichtigt',
  'compare.largerThanScatter': 'größer als Streuung und Gerätefehler',
  'compare.clear': 'Eindeutig: {why}.',
  'compare.clearDifference': 'Der Unterschied ist eindeutig: {why}. Womit er kam, ist es nicht.',
  'compare.resemble': 'Aufeinanderfolgende Schläge ähneln sich; das ist berücksichtigt.',
  'compare.errorNotKnown':
    'Der Gerätefehler ist hier nicht für jeden Wert bekannt und dort nicht eingerechnet.',
  'compare.placedAnew': 'Das Gerät wurde dazwischen neu aufgestellt; dieser Fehler ist eingerechnet.',
  'compare.withoutReading': '{n} ohne Messung',
  'compare.toLookAt': '{n} zum Ansehen, mitgezählt',
  'compare.shotsIn': '{shots} in {block}',
  'compare.shotsInMedian': '{shots} in {block}, Median {median}',
  'compare.withExtras': '{text} ({extras})',
  'compare.dataRow': '{metric}: {before}; {after}',
  'compare.dataDifference': 'Unterschied {range} (95 %)',
  'compare.dataVisible': 'weniger als {by} lässt sich von der Streuung nicht trennen',
  'compare.nothingDone': 'Keine: nichts zu vergleichen.',
  'compare.method':
    '{method}; Schlägergeschwindigkeit und Effizienz zuerst, was daraus folgt, danach ({all} Werte in einem Budget von 5 %). Von einer Veränderung ist die Rede, wenn das bereinigte p höchstens 0,05 und der Unterschied größer ist, als das Gerät machen könnte. Nichts fällt als Fehlschlag weg.',
  'compare.methodPlacedAnew':
    '{method}; Schlägergeschwindigkeit und Effizienz zuerst, was daraus folgt, danach ({all} Werte in einem Budget von 5 %). Von einer Veränderung ist die Rede, wenn das bereinigte p höchstens 0,05 und der Unterschied größer ist, als das Gerät machen könnte, das neue Aufstellen eingerechnet. Nichts fällt als Fehlschlag weg.',
  'compare.drift': '{publications}; Kovarianzanalyse für die Drift; {error}',
  'compare.onlyClub': 'Verglichen wurde nur: {club}; nicht angesehen: {others}.',
  'compare.notCounted': 'Nicht gezählt: {others}.',
  'compare.clubsNotMixed': 'In einem Vergleich werden Schläger nie gemischt.',
  'compare.sameClub': 'Schläge eines Schlägers gegen denselben Schläger.',
  'compare.noCommonClub':
    '{blocks} haben keine Schläge mit demselben Schläger und lassen sich deshalb nicht vergleichen.',
  'compare.thereAre': 'Es gibt {shots}.',

  'spread.steadier':
    '{what}: Die Schläge in {after} liegen enger beieinander als die in {before}, etwa um das {times}-Fache.',
  'spread.wilder':
    '{what}: Die Schläge in {after} liegen weiter auseinander als die in {before}, etwa um das {times}-Fache.',
  'spread.cannotTell':
    'Ob die Schläge von {before} zu {after} bei {what} enger zusammen oder weiter auseinander kamen, lässt sich nicht sagen.',
  'spread.hardToShow':
    'Lässt sich nicht sagen: Mit 10 und 10 Schlägen zeigt sich selbst eine halb so breite Streuung nur in einer von drei Stunden.',
  'spread.alike':
    'Alle Messungen von {what} sind in einem von {blocks} gleich, deshalb lässt sich die Streuung nicht vergleichen.',
  'spread.tooFew': 'Zu wenige Schläge, um die Streuung von {blocks} bei {what} zu vergleichen.',
  'spread.shotsNeeded': 'Lässt sich nicht sagen: Es braucht mindestens {least} Schläge in jedem, besser 15.',
  'spread.data': '{club}: {shots} in {before}, {other} in {after}; {numbers}.',
  'spread.metricP': '{metric} {p}',
  'spread.method': 'Abstände vom Median jedes Abschnitts verglichen (F-Test), bereinigt über {all} (Holm).',

  'regression.expected':
    'Ein Teil der Veränderung bei {metric} war zu erwarten: Die Ausgangslage war für diesen Spieler ungewöhnlich, und etwa {by} {way} wäre es von selbst geworden.',
  'regression.howSure': 'Eine Erwartung aus früheren Abschnitten, keine Messung.',
  'regression.data': '{blocks}; übliches Niveau {level}.',
  'regression.method':
    'Regression zur Mitte: wie viel vom Abstand eines Abschnitts zum üblichen Niveau Streuung ist.',

  'cue.differs':
    '{what} war in den mit {cue} markierten Schwüngen {by} {way} als in den anderen derselben Abschnitte. Es kam mit dem Zeichen; das ist noch keine Ursache.',
  'cue.withinDevice':
    '{what} unterscheidet sich in den mit {cue} markierten Schwüngen um {by}, nicht mehr, als das Gerät machen könnte.',
  'cue.cannotTell':
    'Ob sich die mit {cue} markierten Schwünge bei {what} unterscheiden, lässt sich noch nicht sagen.',
  'cue.cannotTellYet': 'Lässt sich noch nicht sagen ({swings}).',
  'cue.isBlock':
    '{cue} steht an allen Schwüngen seines Abschnitts oder an keinem: Zeichen und Abschnitt sind hier dasselbe, deshalb gibt es für {what} keinen Vergleich nach dem Zeichen.',
  'cue.tagSome':
    'Lässt sich nicht sagen: einige Schwünge eines Abschnitts markieren und andere nicht, oder hin und her gehen.',
  'cue.noPairs': 'Es gibt in keinem Abschnitt Schwünge mit und ohne {cue}, um {what} zu vergleichen.',
  'cue.data': '{tagged}, {untagged} ohne Zeichen, {pairs} in {blocks}; {p}.',
  'cue.method':
    'Nur Unterschiede innerhalb desselben Abschnitts und Schlägers; p aus allen Umverteilungen der Zeichen innerhalb der Abschnitte, exakt; bereinigt über die {all} gezeigten Werte (Holm).',

  'kept.notComparable':
    '{previous} und {current} lassen sich nicht vergleichen: Es braucht zwei Abschnitte in der Stunde davor und einen in dieser, mit demselben Schläger.',
  'kept.data': '{club}: {n} Schläge in {first} und {m} in {last} ({day}), {k} in {now} ({today}).',
  'kept.dataWarmUp':
    '{club}: {n} Schläge in {first} und {m} in {last} ({day}), {k} in {now} ({today}); die ersten {warmUp} Schläge jedes ersten Abschnitts sind Aufwärmen.',
  'kept.method':
    'Anteil des Gewinns, der noch da ist, mit Fiellers Intervall; das Urteil berücksichtigt alle gezeigten Werte (Bonferroni) und das neue Aufstellen des Geräts.',
  'kept.tooFew':
    '{what}: zu wenige Schläge, um zu sagen, was von der letzten Stunde geblieben ist (es braucht 8 in jedem Abschnitt).',
  'kept.noGain':
    '{what}: kein eindeutiger Gewinn in der letzten Stunde, also nichts zu behalten oder zu verlieren.',
  'kept.noClearGain': 'Kein eindeutiger Gewinn.',
  'kept.noneClear': 'Keiner ist eindeutig, sobald alle zählen; jeder für sich: {gains} (95-%-Intervalle).',
  'kept.gainOf': '{metric} {range}',
  'kept.stillThere': '{what} wurde in der letzten Stunde {gain} {way}, und das ist noch da: {share}.',
  'kept.halfKept': 'Sicher, dass mindestens die Hälfte geblieben ist.',
  'kept.mostGone':
    '{what} wurde in der letzten Stunde {gain} {way}, und das meiste davon ist weg; geblieben ist {share}.',
  'kept.lessKept': 'Sicher, dass weniger als die Hälfte geblieben ist.',
  'kept.cannotTell':
    '{what} wurde in der letzten Stunde {gain} {way}; wie viel davon noch da ist, lässt sich noch nicht sagen.',
  'kept.cannotTellYet': 'Lässt sich noch nicht sagen: {share}.',
  'kept.withinSetUp':
    '{what} wurde in der letzten Stunde {gain} {way}, nicht mehr, als das neue Aufstellen des Geräts machen könnte (bis zu {floor}); von Stunde zu Stunde lässt es sich deshalb nicht verfolgen.',
  'kept.setUpError': 'Lässt sich vom Fehler des Aufstellens nicht trennen.',
  'kept.all': 'alles davon oder mehr',
  'kept.about': 'etwa {share} davon',
  'kept.interval': '{share} (95-%-Intervall {low} bis {high})',

  'plan.nothing': 'Es wurde nichts aufgezeichnet, was sich vergleichen ließe, {between}.',
  'plan.between': 'vom Ende der Stunde am {planned} bis zum Anfang der Stunde am {shown}',
  'plan.cannotTell': 'Ob sich {what} verändert hat, {between}, lässt sich noch nicht sagen.',
  'plan.hidden':
    'Lässt sich nicht sagen: Streuung, Gerät und neues Aufstellen verdecken einen Unterschied dieser Größe.',
  'plan.tooFew': 'Zu wenige Schläge, um zu sagen, ob sich {what} verändert hat, {between}.',
  'plan.shotsNeeded': 'Lässt sich nicht sagen: Es braucht mindestens 5 Schläge auf jeder Seite.',
  'plan.changed':
    '{what} war am Anfang der Stunde am {shown} {by} {way} als am Ende der Stunde am {planned} (95-%-Intervall {interval}). Es kam nach dem Üben; anderes kann sich auch verändert haben.',
  'plan.clear':
    'Eindeutig: {numbers} angesehen und das Gerät neu aufgestellt, und beides ist berücksichtigt. Es ist eine eigene Frage neben denen der Stunde.',
  'plan.withinDevice':
    '{what} war am Anfang der Stunde am {shown} {by} {way} als am Ende der Stunde am {planned}, aber schon das neue Aufstellen des Geräts könnte bis zu {floor} machen.',
  'plan.held': '{what} blieb gleich, {between}, auf {margin} genau.',
  'plan.insideMargin':
    'Eine größere Veränderung ist unwahrscheinlich (90-%-Intervall innerhalb dieser Grenze).',
  'plan.noReadings': '{club}: keine Messungen auf beiden Seiten.',
  'plan.data': '{club}: {shots} des letzten Abschnitts davor, {after} des ersten Abschnitts danach.',

  'season.tooEarly': '{what}: {lessons}, zu früh für eine Richtung.',
  'season.lessonsNeeded': 'Lässt sich noch nicht sagen: Es braucht mindestens {least} Stunden.',
  'season.cannotTell': 'Ob {what} über die Saison steigt oder fällt, lässt sich noch nicht sagen.',
  'season.fits':
    'Lässt sich nicht sagen: Eine Veränderung von {interval} im Monat passt zu den Stunden (95-%-Intervall).',
  'season.trend': 'Über die Saison wurde {what} im Monat {by} {way} (95-%-Intervall {interval}).',
  'season.alike': 'Die Stunden unterscheiden sich bei {what} nicht über die Streuung der Schläge hinaus.',
  'season.noneStandsOut': 'Keine Stunde ragt heraus.',
  'season.best': 'Persönliche Bestleistung bei {what}: {level} am {day}, das Glück herausgerechnet.',
  'season.bestNotClear':
    'Das höchste Niveau bei {what} war {level} am {day}, das Glück herausgerechnet; vom nächstbesten hebt es sich aber nicht mehr ab, als Zufall es tut.',
  'season.bestClear': 'Eindeutig: mehr als Streuung und Fehler des Aufstellens.',
  'season.luck': 'Lässt sich vom Glück nicht trennen.',
  'season.dayLabel': '{day} ({label})',
  'season.data': '{club}: {lessons}, {shots}',
  'season.dataP': '{data}; {p}.',
  'season.method':
    'Mitte jeder Stunde über die Tage: Median aller paarweisen Steigungen mit Intervall, p nach Mann-Kendall, bereinigt über {numbers} (Holm).',
  'season.bestMethod':
    'Das Mittel jeder Stunde, um den Anteil der Streuung zum Mittel aller Stunden gezogen; eine Bestleistung zählt, wenn sie sich von jeder anderen Stunde abhebt, das neue Aufstellen des Geräts eingerechnet.',

  'session.notRecordedMany': '{what} wurden nicht aufgezeichnet, deshalb lässt sich nichts dazu sagen.',
  'session.efficiencyNeeds': 'Effizienz braucht Schläger- und Ballgeschwindigkeit desselben Schlags.',
  'session.method':
    'Ob: Rangtest auf eine Veränderung des Niveaus, p durch Mischen (Pettitt), bereinigt mit den anderen Tests der Stunde (Holm). Wo: Wahrscheinlichkeit jeder Stelle, Bereich mit 90 %.',
  'session.data': '{readings}, {p}',
  'session.ofClub': '{club}, {shots} der Stunde',
  'session.tooFew': 'Zu wenige Schläge, um zu sagen, ob und wo sich {what} in der Stunde verändert hat.',
  'session.shotsNeeded': 'Lässt sich nicht sagen: Es braucht mindestens {least} Schläge.',
  'session.alike': 'Alle Messungen von {what} sind gleich, deshalb lässt sich keine Veränderung verorten.',
  'session.steady': 'Schlag für Schlag sticht bei {what} kein Sprung heraus.',
  'session.noProof': 'Das ist kein Beweis, dass sich nichts verändert hat.',
  'session.rose':
    '{what} stieg im Lauf der Stunde nach und nach, eher eine Neigung als ein Sprung: Der spätere Teil war {by} {way}.',
  'session.fell':
    '{what} fiel im Lauf der Stunde nach und nach, eher eine Neigung als ein Sprung: Der spätere Teil war {by} {way}.',
  'session.moved': 'Eindeutig, dass es sich bewegte; nicht wo.',
  'session.somewhere': 'irgendwo in der Mitte der Stunde',
  'session.after': 'nach Schlag {shot}',
  'session.between': 'zwischen Schlag {from} und Schlag {to}',
  'session.withStart': 'Es kam mit dem Anfang von {block}.',
  'session.thatIsIn': 'Das ist in {blocks}.',
  'session.firstTagged': 'Dort zum ersten Mal markiert: {cues}.',
  'session.changed': '{what} veränderte sich {place}: von da an {by} {way}.',
  'session.clearRange':
    'Eindeutig, dass es sich veränderte; die wahre Stelle liegt mit 90 % in diesem Bereich.',

  'speed.notRecorded':
    'Das Spieltempo braucht Schläger- und Ballgeschwindigkeit derselben Schläge; beide wurden nicht aufgezeichnet, deshalb lässt sich nichts dazu sagen.',
  'speed.strikeCosts': 'Das Treffen kostet hier mehr als das Tempo: am Treffen arbeiten.',
  'speed.strikeFirst': 'Erst das Treffen ansehen, bevor andere Tempi versucht werden.',
  'speed.toHit':
    'Um es herauszufinden, etwa {shots} weitere Schläge machen, je ein Drittel mit {efforts} Einsatz (ungefähr {speeds}).',
  'speed.tooFew':
    '{n, plural, one {# Schlag ist} other {# Schläge sind}} zu wenig, um das Spieltempo zu finden.',
  'speed.shotsNeeded':
    'Lässt sich nicht sagen: Es braucht mindestens 12 Schläge, auf 20 zu warten lohnt sich.',
  'speed.alike':
    'Das Spieltempo lässt sich noch nicht finden: Diese Schwünge unterscheiden sich im Tempo kaum mehr, als das Gerät irrt.',
  'speed.disagree': 'Die Schläge sind sich über kein Spieltempo einig: zu wenig Spanne, um es zu sagen.',
  'speed.noRange': 'Lässt sich nicht sagen: zu wenig Spanne der Geschwindigkeiten.',
  'speed.stillRising':
    'Die Ballgeschwindigkeit stieg mit der Schlägergeschwindigkeit bis {fastest}: In diesen Schwüngen zeigte sich keine Grenze. Das allein ist kein Grund, härter zu schwingen; Richtung, Körper und Sicherheit gehen vor.',
  'speed.falling':
    'Die Ballgeschwindigkeit war bei den langsamsten geschlagenen Schwüngen am höchsten: Mehr Schlägergeschwindigkeit kam mit so viel schlechterem Treffen, dass nichts gewonnen war.',
  'speed.noRangeInside': 'Zu wenig Spanne, um das Spieltempo zu sagen.',
  'speed.mild':
    'Das beste Tempo lässt sich nicht genau verorten: Bei {band} liegt die Ballgeschwindigkeit innerhalb von 1 % ihres Besten. Das langsamere Ende nehmen, etwa {slower}.',
  'speed.mildWorse':
    'Das beste Tempo lässt sich nicht genau verorten: Bei {band} liegt die Ballgeschwindigkeit innerhalb von 1 % ihres Besten. Das langsamere Ende nehmen, etwa {slower}; die schnelleren Schwünge gingen weiter von der üblichen Richtung weg.',
  'speed.mildBend': 'Die Biegung ist schwach: Das beste Tempo liegt irgendwo bei {range}.',
  'speed.best':
    'Dein Spieltempo ist etwa {range}: Dort ist die Ballgeschwindigkeit am besten. Dein schnellster Schwung, {fastest}, brachte im Mittel nicht mehr Ballgeschwindigkeit.',
  'speed.bestWorse':
    'Dein Spieltempo ist etwa {range}: Dort ist die Ballgeschwindigkeit am besten, und darüber wird die Richtung schlechter. Dein schnellster Schwung, {fastest}, brachte im Mittel nicht mehr Ballgeschwindigkeit.',
  'speed.resampling': 'Wiederholtes Ziehen stimmt überein.',
  'speed.liesAt': 'Das beste Tempo liegt bei {range} (95-%-Intervall).',
  'speed.shots': '{shots} mit Schläger- und Ballgeschwindigkeit',
  'speed.more': '{share} der Spanne der Schlägergeschwindigkeit ist mehr als Messfehler',
  'speed.method':
    'Effizienz gegen Schlägergeschwindigkeit, gebogene Anpassung über alle Schläge, Fehlschläge eingeschlossen; das Tempo mit der größten erwarteten Ballgeschwindigkeit, nie außerhalb des Geschlagenen; 2.000 Ziehungen müssen zu 95 % übereinstimmen.',
  'direction.worse': 'Die schnelleren Schwünge gingen weiter von der üblichen Richtung weg.',
  'direction.better': 'Die schnelleren Schwünge lagen näher an der üblichen Richtung.',
  'direction.cannotTell': 'Ob die Richtung mit dem Tempo schlechter wird, lässt sich nicht sagen.',
  'direction.tooFew': 'Zu wenige Schläge mit einer Richtung ({n}), um sie gegen das Tempo zu halten.',
  'direction.shotsNeeded': 'Es braucht mindestens 10 Schläge.',
  'direction.notRecorded': 'Die Richtung wurde nicht aufgezeichnet; es geht also nur um Ballgeschwindigkeit.',
  'direction.correlation': '{shots}, Rangkorrelation {r} (95-%-Intervall {low} bis {high}).',
  'direction.method':
    'Rangkorrelation der Schlägergeschwindigkeit mit dem Abstand von der mittleren Richtung (Spearman).',

  'held.about': 'etwa {amount}',
  'held.levelBelow': 'Effizienz {own}, etwa {reach} ist erreichbar',
  'held.levelAtReach': 'Effizienz {own}, so hoch, wie zu erwarten ist',
  'held.strikeWorth': 'ein solches Treffen wäre beim heutigen Tempo {gain} Flugweite wert',
  'held.speedWorth': '{more} mehr Schlägergeschwindigkeit beim heutigen Treffen etwa {gain}',
  'held.strike': 'Das Treffen hält die Flugweite zurück, nicht das Tempo: {level}; {strike}, {speed}.',
  'held.speed':
    'Das Tempo hält die Flugweite zurück, nicht das Treffen: Das Treffen ist gut genug ({level}), {more} mehr Schlägergeschwindigkeit wäre bei diesem Treffen etwa {gain} Flugweite wert.',
  'held.cannotTell':
    'Was die Flugweite zurückhält, lässt sich noch nicht sagen ({level}): {strike}, {speed}.',
  'held.strikeFirst': 'Erst das Treffen ansehen, vor jeder Arbeit am Tempo.',
  'held.tooClose':
    'Beides liegt zu dicht beieinander, oder das Erreichbare ist zu ungewiss, als dass mehr Schläge allein es klären würden.',
  'held.wouldSettle': 'Etwa {shots} weitere Schläge würden es in 8 von 10 Fällen klären.',
  'held.notSure': 'Nicht sicher.',
  'held.notSureYet': 'Noch nicht sicher; etwa {shots} weitere Schläge würden es zeigen.',
  'held.nearlyCertain':
    'Mehr als 95 von 100 nach diesen Schlägen und den für das Gerät angenommenen Fehlern.',
  'held.chances': 'Etwa {tenths} von 10 nach diesen Schlägen und den für das Gerät angenommenen Fehlern.',
  'held.restsOnOwn': 'Es beruht nur auf den eigenen Schlägen dieses Spielers.',
  'held.restsOnFormula':
    'Es beruht auf einer Formel dafür, was mit {club} möglich ist; ein veröffentlichter Durchschnitt ist nicht bekannt.',
  'held.restsOnAverage':
    'Es beruht auf dem Durchschnitt der besten Spieler mit {club}, aus dem Gedächtnis zitiert.',
  'held.oddReadings':
    '{n, plural, one {# seltsame Messung wurde} other {# seltsame Messungen wurden}} ausgelassen.',
  'held.unitsWrong':
    'Kein Urteil: Ball- und Schlägergeschwindigkeit passen bei {club} nicht zueinander; die Einheiten oder die Spalten scheinen falsch.',
  'held.checkUnits': 'Zu Treffen oder Tempo wird nichts gesagt, bis die Einheiten geprüft sind.',
  'held.deviceWrong':
    'Kein Urteil: {above} von {of} Schlägen liegen über dem, was mit {club} möglich ist; das Gerät scheint die Schlägergeschwindigkeit falsch zu lesen, oder die Einheiten scheinen falsch.',
  'held.deviceWrongLimit':
    'Kein Urteil: {above} von {of} Schlägen liegen über dem, was mit {club} möglich ist ({limit}); das Gerät scheint die Schlägergeschwindigkeit falsch zu lesen, oder die Einheiten scheinen falsch.',
  'held.checkDevice': 'Zu Treffen oder Tempo wird nichts gesagt, bis Gerät oder Einheiten geprüft sind.',
  'held.noShots': 'Noch keine Schläge, Treffen und Tempo lassen sich also nicht vergleichen.',
  'held.severalClubs':
    'Diese Schläge mischen mehrere Schläger; Treffen und Tempo werden je Schläger verglichen.',
  'held.noSpeeds':
    'Kein Schlag hat Schläger- und Ballgeschwindigkeit; Effizienz, Spieltempo und was die Flugweite zurückhält, lassen sich deshalb nicht sagen.',
  'held.speedsNotUsed':
    'Bei jedem Schlag mit Schläger- und Ballgeschwindigkeit kann eine der beiden nicht stimmen und zählte nicht mit; Effizienz, Spieltempo und was die Flugweite zurückhält, lassen sich deshalb nicht sagen. Gerät oder Einheiten prüfen.',
  'held.tooFew':
    'Lässt sich noch nicht sagen: {n} {n, plural, one {brauchbarer Schlag ist} other {brauchbare Schläge sind}} zu wenig; {more} weitere mit {club} würden eine erste Antwort geben.',
  'held.noCeiling': 'Lässt sich nicht sagen: {reason}.',
  'held.noCeilingKnown': 'es ist keine Obergrenze bekannt',
  'held.noCarry': 'In Flugweite lässt es sich nicht sagen: {reason}.',
  'held.notComputed': 'Nicht berechnet.',
  'held.notComputedYet':
    'Nicht berechnet; {n} {n, plural, one {weiterer Schlag würde} other {weitere Schläge würden}} eine erste Antwort geben.',
  'held.shots': '{n, plural, one {# Schlag} other {# Schläge}} mit {club}',
  'held.shotsLeftOut':
    '{n, plural, one {# Schlag} other {# Schläge}} mit {club}, {leftOut} ausgelassen (ohne Schläger- oder Ballgeschwindigkeit, oder eine unmögliche Messung)',
  'held.assumedGain':
    'Annahme: 3 % der heutigen Schlägergeschwindigkeit; kein veröffentlichter Wert ließ sich bestätigen',
  'held.gainByCoach': '{percent} % der heutigen Schlägergeschwindigkeit, vom Coach gesetzt',
  'held.data': '{data}; {launch}.',
  'held.method':
    'Erreichbar: {reach} ± {sd}, {basis}. Tempogewinn: {gainBasis}. Gefragt: Ist die Lücke im Treffen größer als das, was das Tempo brächte ({worth}), und als das, was sich lohnt ({margin})? Lücke {gap} ± {gapSd}. In Flugweite gebracht durch das Flugmodell bei mittlerem Start und Spin des Abschnitts.',
  'held.source':
    'Zweikörperstoß und Tour-Durchschnitte je Schläger (aus dem Gedächtnis), Flug nach Quintavalla 2002 mit begrenztem Spin, Äquivalenz mit einer Grenze nach Schuirmann 1987; Gerätefehler sind Annahmen, die der Coach ändern kann.',

  'carry.asRecorded': 'Start und Spin wie aufgezeichnet',
  'carry.assumed': '{what} angenommen: {basis}',
  'carry.assumedLaunch': 'Start {launch}° ± {sd}°',
  'carry.assumedSpin': 'Spin {spin} ± {sd} U/min',
  'carry.betweenClubs':
    'zwischen den Durchschnitten der Herren-Tour mit den Nachbarschlägern (Annahme), Streuung angenommen',
  'carry.launchAngle': 'Startwinkel',
  'carry.noTypical': 'es wurde kein {what} aufgezeichnet, und für {club} ist kein üblicher Wert bekannt',
  'carry.spin': 'Spin',
  'carry.tourAverage':
    'Durchschnitt der Herren-Tour (vielfach abgedruckt, aus dem Gedächtnis), Streuung angenommen',
  'ceiling.average':
    'Durchschnitt der Herren-Tour mit {club} (aus dem Gedächtnis), eine weiche Obergrenze; die Formel ergibt {formula}',
  'ceiling.averageAtLoft':
    'Durchschnitt der Herren-Tour mit {club} bei diesem Loft (aus dem Gedächtnis), eine weiche Obergrenze; die Formel ergibt {formula}',
  'ceiling.formula':
    'Zweikörperformel für {club} mit angenommenem Kopf und Loft; kein veröffentlichter Durchschnitt ist bekannt',
  'ceiling.lightHead': '{basis}, für einen leichten Kopf',
  'ceiling.ownBest':
    'das Beste aus {n} eigenen Schlägen dieses Spielers mit {club}, der Fehler des Geräts herausgerechnet',
  'ceiling.putter': 'ein Putter hat hier keine Obergrenze der Effizienz',
  'ceiling.raised': '{basis}; angehoben durch das, was dieser Spieler in {n} Schlägen gezeigt hat ({level})',
  'ceiling.unknown':
    'für {club} ist keine Obergrenze bekannt; {needed} eigene Schläge ergäben eine (bisher {own})',
  'lesson.computedCarry':
    '{data} Das Gerät gab keine Flugweite mit {clubs} an, daher ist sie aus Ballgeschwindigkeit, Start und Spin berechnet.',
  'text.anUnknownClub': 'einen unbekannten Schläger',
  'text.club': '{club}',

  'caution.speed':
    'Vor dem Tempotraining: dynamisch aufwärmen, den Umfang langsam steigern, Platz ringsum halten und bei Schmerzen aufhören; frühere Beschwerden an Rücken, Handgelenk, Ellbogen, Schulter oder Knie zuerst medizinischem Fachpersonal zeigen.',

  'works.cue': 'dem Zeichen {cue}',
  'works.student': 'Schüler {n}',
  'works.notRecordedShort': 'nicht aufgezeichnet',
  'works.tooFewShort': '{students}, zu wenige für eine Aussage',
  'works.notRecorded':
    '{what} wurde in der Ausgangslage und mit {focus} nicht aufgezeichnet, je mindestens drei Schläge.',
  'works.tooFew': '{what} mit {focus}: bisher {students}; ab {least} lässt sich etwas sagen.',
  'works.short': '{sameWay} von {all} Schülern, {by} ({span})',
  'works.next': 'Ein weiterer solcher Schüler könnte {range} finden.',
  'works.allowed': '{numbers} in dieser Liste angesehen, und das ist berücksichtigt.',
  'works.cameWith':
    'Mit {focus} war {what} bei {sameWay} von {all} Schülern {way} als in der Ausgangslage: {by} (95-%-Intervall {span}).',
  'works.clear': 'Eindeutig, dass es damit kam, nicht, dass es davon kam: {allowed}',
  'works.noOtherBlocks':
    'Weniger als {least} Schüler hatten nach der Ausgangslage einen anderen Abschnitt, gegen den es sich halten ließe; was jeder spätere Abschnitt mitbringt, ist also darin.',
  'works.asOthers':
    'Mit {focus} war {what} {way} als in der Ausgangslage, {by} (95-%-Intervall {span}), aber nicht eindeutig anders als in den übrigen Abschnitten derselben Stunden nach der Ausgangslage (der Unterschied ist {apart}).',
  'works.asAnyBlock': 'Lässt sich von dem nicht trennen, was jeder Abschnitt nach dem ersten mitbringt.',
  'works.cannotTell':
    'Ob sich {what} mit {focus} unterscheidet, lässt sich noch nicht sagen: {by} (95-%-Intervall {span}), bei {sameWay} von {all} Schülern in dieselbe Richtung.',
  'works.cannotTellYet': 'Lässt sich noch nicht sagen: {allowed}',
  'works.chosen':
    'Einen Schwerpunkt bekommen die, die ihn zu brauchen scheinen. Andere antworten vielleicht nicht so.',
  'works.slowStart':
    'Ein durch Zufall langsamer Anfang wird von selbst besser (Regression zur Mitte), und spätere Schwünge unterscheiden sich von den ersten, welcher Schwerpunkt auch immer: Die Veränderung ist, was damit kam, nicht, was er tat.',
  'works.fewStudents':
    'Wenige Schüler (höchstens {most}): Die Intervalle sind breit, und ein Schüler mehr kann sie verschieben.',
  'works.leftOut':
    '{students} ausgelassen: Die Einwilligung auf der Karte erlaubt das Aufbewahren nicht oder ist abgelaufen.',
  'works.method':
    'Je Schüler: Mittel der Schläge mit dem Schwerpunkt oder Zeichen weniger das Mittel der Ausgangslage, innerhalb derselben Stunden und mit demselben Schläger, Stunden nach ihren Schlägen gewichtet. Zusammen: zufällige Effekte, Varianz zwischen Schülern nach REML, Hartung-Knapp-Intervall. Ein Budget von 5 % für {numbers} in dieser Liste (Holm); das Budget keiner Stunde ist darin. Angesehen: {metrics}.',

  'strike.notRecorded':
    'Kein Ort auf der Schlagfläche wurde aufgezeichnet, deshalb gibt es keine Trefferkarte.',
  'strike.firstImpression': '{strikes} auf der Karte: ein erster Eindruck, kein Muster.',
  'strike.strikesNeeded': 'Lässt sich noch nicht sagen: Es braucht mindestens 8 Treffer.',
  'strike.ellipse': '95 % der nächsten Treffer fallen in eine Ellipse von etwa {width} mal {height} mm',
  'strike.off': 'Die Treffer sitzen {off} von {spot}; {ellipse}.',
  'strike.clearOff': 'Eindeutig, dass die Mitte des Musters daneben liegt.',
  'strike.noBias': 'Eine Abweichung von {spot} lässt sich nicht zeigen; {ellipse}.',
  'strike.centredUnsure': 'Dass die Treffer mittig sind, lässt sich nicht sicher sagen.',
  'strike.bestSpot': 'der bisher besten Stelle des Spielers',
  'strike.faceCentre': 'der Mitte der Schlagfläche',
  'strike.ofBestSpot':
    'Beste Stelle: die Mitte des besten Viertels von {strikes} aus früheren Stunden, {off} von der Mitte der Schlagfläche.',
  'strike.ofFaceCentre':
    'Abstände zählen von der Mitte der Schlagfläche; ab 20 Treffern aus früheren Stunden von der besten Stelle des Spielers.',
  'strike.toe': '{mm} mm auf der Spitzenseite',
  'strike.heel': '{mm} mm auf der Fersenseite',
  'strike.high': '{mm} mm auf der oberen Seite',
  'strike.low': '{mm} mm auf der unteren Seite',
  'strike.middle': 'weniger als 1 mm neben der Mitte',
  'strike.data': '{club}: {strikes} mit einem Ort auf der Schlagfläche',
  'strike.dataBias': '{data}; Abweichung {p}. {origin}',
  'strike.ellipseMethod':
    'Ellipse, in die 95 % der nächsten Treffer fallen (F-Faktor für wenige Schläge); Abweichung nach Hotellings Test.',
  'strike.lossData': '{strikes} mit Effizienz. {origin}',
  'strike.lossMethod':
    'Kleinste Quadrate der Effizienz über den quadrierten Abstand von der Stelle, die vorher feststeht.',
  'strike.lossSource':
    'gewöhnliche kleinste Quadrate; starrer Körper: Der Verlust wächst mit dem Quadrat des Abstands',
  'strike.falls': '10 mm von {spot} entfernt ist die Effizienz etwa {loss} niedriger.',
  'strike.fallsInterval': '95-%-Intervall {low} bis {high} niedriger.',
  'strike.cannotTell':
    'Wie stark die Effizienz mit dem Abstand von {spot} abnimmt, lässt sich noch nicht sagen.',
  'strike.tooFew': 'Zu wenige Treffer mit Effizienz ({n}), um zu sehen, wie sie mit dem Abstand abnimmt.',
  'strike.lossNeeded': 'Lässt sich nicht sagen: Es braucht mindestens 10.',
  'strike.lossNotRecorded':
    'Zu diesen Treffern wurde keine Effizienz aufgezeichnet; was ein Fehltreffer kostet, lässt sich deshalb nicht sagen.',

  'metric.efficiency': 'Effizienz',
  'metric.clubSpeedMps': 'Schlägergeschwindigkeit',
  'metric.ballSpeedMps': 'Ballgeschwindigkeit',
  'metric.launchDeg': 'Abflugwinkel',
  'metric.launchDirectionDeg': 'Startrichtung',
  'metric.spinRpm': 'Spin',
  'metric.spinAxisDeg': 'Spinachse',
  'metric.carryM': 'Flugweite',
  'metric.totalM': 'Gesamtweite',
  'metric.sideM': 'seitliche Abweichung',
  'metric.apexM': 'Höhe',
  'metric.descentDeg': 'Landewinkel',
  'metric.flightSeconds': 'Flugzeit',
  'metric.attackDeg': 'Eintreffwinkel',
  'metric.clubPathDeg': 'Schlägerweg',
  'metric.faceDeg': 'Schlagflächenwinkel',
  'metric.dynamicLoftDeg': 'Loft im Treffmoment',
  'metric.impactXMm': 'Treffpunkt Ferse bis Spitze',
  'metric.impactYMm': 'Treffpunkt unten bis oben',
  'metric.tempoRatio': 'Rhythmus',
  'metric.backswingSeconds': 'Ausholzeit',
  'metric.downswingSeconds': 'Abschwungzeit',
  'metric.braceBeforeImpactSeconds': 'Abstützen vor dem Treffen',
  'metric.leadKneeSetupDeg': 'vorderes Knie in der Ansprechposition',
  'metric.leadKneeTopDeg': 'vorderes Knie am höchsten Punkt',
  'metric.leadKneeImpactDeg': 'vorderes Knie im Treffmoment',
  'metric.leadKneeStraighteningDegPerS': 'Streckung des vorderen Knies',
  'metric.headAlongTopWidths': 'Kopf entlang der Ziellinie, Ansprechposition bis höchster Punkt',
  'metric.headAlongImpactWidths': 'Kopf entlang der Ziellinie, Ansprechposition bis Treffmoment',
  'metric.headUpImpactWidths': 'Kopf aufwärts, Ansprechposition bis Treffmoment',
  'metric.pelvisAlongImpactWidths': 'Becken entlang der Ziellinie, Ansprechposition bis Treffmoment',
  'metric.pelvisStopSeconds': 'Becken auf halbem Tempo vor dem Treffen',
  'metric.spineTiltSetupDeg': 'Seitneigung der Wirbelsäule in der Ansprechposition',
  'metric.spineTiltImpactDeg': 'Seitneigung der Wirbelsäule im Treffmoment',
  'metric.spineBendSetupDeg': 'Vorneigung der Wirbelsäule in der Ansprechposition',
  'metric.spineBendImpactDeg': 'Vorneigung der Wirbelsäule im Treffmoment',
  'metric.shoulderLineImpactDeg': 'Schulterlinie im Treffmoment',
  'metric.pelvisLineImpactDeg': 'Beckenlinie im Treffmoment',
  'metric.leadArmTopDeg': 'vorderer Arm am höchsten Punkt',
  'metric.leadElbowTopDeg': 'vorderer Ellbogen am höchsten Punkt',
  'metric.shoulderRiseTopWidths': 'Schultern zu den Ohren, Ansprechposition bis höchster Punkt',
}
