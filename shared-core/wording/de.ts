import type { MessageKey } from './en.ts'

/** Machine-assisted; no speaker has read it yet. The student is addressed as “du”, as in German golf lessons (common practice). */
export const de: Record<MessageKey, string> = {
  sure: 'Da sind wir uns sicher.',
  tooEarly: 'Das lässt sich noch nicht sagen.',

  'what.efficiency': 'deine Treffqualität',
  'what.clubSpeed': 'deine Schlägergeschwindigkeit',
  'what.ballSpeed': 'deine Ballgeschwindigkeit',
  'what.carry': 'deine Flugweite',
  'what.tempo': 'der Rhythmus deines Schwungs',
  'what.brace': 'der Moment, in dem deine vordere Seite fest wird,',
  'what.shots': 'das Ergebnis deiner Schläge',
  'what.other': 'einer deiner Werte',

  'amount.yards': '{n} Yards',
  'amount.metres': '{n} Meter',
  'amount.milesAnHour': '{n} Meilen pro Stunde',
  'amount.kmAnHour': '{n} km pro Stunde',
  'amount.metresASecond': '{n} Meter pro Sekunde',

  'change.cameWith': 'Das kam mit {block}.',
  'change.hitBetter': 'Du hast den Ball besser getroffen.',
  'change.hitWorse': 'Der Ball wurde weniger gut getroffen.',
  'change.clubFaster': 'Dein Schläger war etwa {amount} schneller.',
  'change.clubSlower': 'Dein Schläger war etwa {amount} langsamer.',
  'change.flewMore': 'Der Ball flog etwa {amount} weiter.',
  'change.flewLess': 'Der Ball flog etwa {amount} kürzer.',
  'change.ballFaster': 'Der Ball verließ den Schläger schneller.',
  'change.ballSlower': 'Der Ball verließ den Schläger langsamer.',
  'change.speedThere': 'Das Tempo ist also da. Als Nächstes: wieder so gut treffen wie vorher.',
  'change.keep': 'Behalte dieses Gefühl.',
  'change.takesTime': 'Das ist in Ordnung: Eine neue Bewegung braucht Zeit.',
  'change.otherClubs':
    'In {block} hast du andere Schläger benutzt, deshalb lässt es sich nicht mit dem Anfang vergleichen.',
  'change.wasSoIn': 'So war es in {block}.',
  'change.hitAsBefore': 'Schlag nächstes Mal fünf wie vorher, um zu sehen, ob es bleibt.',
  'change.sureOfNumbers': 'Der Zahlen sind wir uns sicher, noch nicht dessen, womit es kam.',
  'change.notCounted': 'Einige Schläge wurden hier nicht mitgezählt.',
  'change.askWhich': 'Dein Coach kann dir sagen, welche.',
  'change.cannotSee': 'Mit {block} ist noch keine klare Veränderung zu sehen. Mehr Schläge werden es zeigen.',

  'spread.steadier': 'Mit {block} waren deine Schläge gleichmäßiger. Das ist gut.',
  'spread.wilder':
    'Mit {block} waren deine Schläge weniger gleichmäßig. Das ist in Ordnung: Eine neue Bewegung braucht Zeit.',
  'spread.cannotTell':
    'Es lässt sich noch nicht sagen, ob deine Schläge jetzt gleichmäßiger sind als am Anfang.',

  'held.strike':
    'Du schwingst schnell genug. Was du jetzt brauchst, ist ein besserer Treffer. Arbeite also zuerst am Treffen, nicht am Tempo.',
  'held.strikeGain':
    'Du schwingst schnell genug. Was du jetzt brauchst, ist ein besserer Treffer. Das könnte dir etwa {amount} mehr bringen. Arbeite also zuerst am Treffen, nicht am Tempo.',
  'held.speed':
    'Du triffst den Ball gut. Mehr Schlägergeschwindigkeit würde dir am meisten helfen. Steigere sie langsam.',
  'held.speedGain':
    'Du triffst den Ball gut. Mehr Schlägergeschwindigkeit würde dir am meisten helfen. Etwas mehr könnte dir etwa {amount} bringen. Steigere sie langsam.',
  'held.strikeFirst': 'Besseres Treffen kommt zuerst. Das Tempo kann warten.',
  'held.cannotTell':
    'Ob dir besseres Treffen oder mehr Tempo am meisten hilft, lässt sich noch nicht sagen. Mehr Schläge werden es zeigen.',

  'playSpeed.band':
    'Du spielst am besten mit {low} bis {high} Schlägergeschwindigkeit. Nimm dieses Tempo mit auf den Platz.',
  'playSpeed.cannotTell':
    'Wir wissen noch nicht, bei welchem Tempo du am besten spielst. Schlag einige Bälle locker, einige schnell, dann sehen wir es.',

  'kept.cannotTell': 'Es lässt sich noch nicht sagen, ob {what} so ist wie beim letzten Mal.',
  'kept.cannotTellMany': 'Ob {what} so ist wie beim letzten Mal, lässt sich noch nicht sagen.',
  'kept.kept': 'Was du letztes Mal gewonnen hast, ist noch da: {what}. Gut gemacht.',
  'kept.lost':
    'Ein Teil dessen, was du letztes Mal gewonnen hast, ist weg: {what}. Das ist normal. Such wieder das Gefühl von damals.',

  'season.rising': 'Von Stunde zu Stunde ist {what} gestiegen. Mach weiter so.',
  'season.falling':
    'Von Stunde zu Stunde ist {what} gesunken. Lass uns herausfinden, woran das liegt, bevor du mehr Druck machst.',
  'season.best': 'Dein neuer Bestwert: {what}. Gut gemacht.',
  'season.bestNotClear': 'In einer deiner Stunden lag {what} vorn. Vielleicht war es ein guter Tag.',
  'season.alike': 'In deinen Stunden war {what} etwa gleich.',
  'season.notRecorded': 'Dafür haben wir keine Zahlen: {what}.',
  'season.cannotTell': 'Wohin sich {what} bewegt, lässt sich noch nicht sagen. Es braucht mehr Stunden.',
  'plan.up': 'Seit dem letzten Plan ist {what} gestiegen. Übe weiter wie bisher.',
  'plan.down':
    'Seit dem letzten Plan ist {what} gesunken. Das kann vorkommen. Erzähl deinem Coach, wie das Üben lief.',
  'plan.same': 'Seit dem letzten Plan ist {what} etwa gleich geblieben.',
  'plan.cannotTell': 'Es lässt sich noch nicht sagen, ob sich {what} seit dem letzten Plan verändert hat.',

  'cue.differs': 'Wenn dein Coach {cue} sah, war {what} anders. Achte darauf.',
  'cue.cannotTell': 'Es lässt sich noch nicht sagen, ob {cue} etwas damit zu tun hat, wie {what} ausfällt.',
  'cue.this': 'das',
  'cue.whatCoachSaw': 'das, was dein Coach sah,',
  'strike.offCentre':
    'Deine Treffer liegen auf die gleiche Art neben der Mitte der Schlagfläche. Lass dir von deinem Coach zeigen, wo.',
  'strike.cannotTell':
    'Es ist noch nicht zu sehen, wo auf der Schlagfläche du meistens triffst. Mehr Abdrücke werden es zeigen.',
  'session.changed': 'Im Lauf der Stunde hat sich {what} verändert.',
  'session.noChange': 'Im Lauf der Stunde ist {what} ohne klare Veränderung geblieben.',
  'other.changedWith': 'Mit {block} hat sich {what} verändert.',
  'other.changedToday': 'Heute hat sich {what} verändert.',
  'other.cannotTell': 'Es lässt sich noch nicht sagen, ob sich {what} verändert hat.',

  'page.yourLesson': 'Deine Stunde',
  'page.from': 'von {coach}',
  'page.logoOf': 'Logo von {coach}',
  'page.logoOfCoach': 'Logo deines Coachs',
  'page.onThisPage': 'Auf dieser Seite',
  'page.top': 'Oben',
  'page.backToTop': 'Zurück nach oben',
  'page.inShort': 'Kurz gesagt',
  'page.heldBack': 'Was dich gebremst hat',
  'page.changed': 'Was sich verändert hat',
  'page.untilNext': 'Was bis zum nächsten Mal zu tun ist',
  'page.practise': 'Übe: {drills}.',
  'page.beforeAfter': 'Vorher und nachher',
  'page.beforeAfterShort': 'Vorher',
  'page.shots': 'Deine Stunde, Schlag für Schlag',
  'page.shotsShort': 'Schläge',
  'page.more': 'Mehr, und die Zahlen jedes Abschnitts',
  'page.talk': 'Besprochen',
  'page.talkShort': 'Gespräch',
  'page.talkText': '{title}: Dein Coach spricht zu den Bildern, {length} Minuten',
  'page.talkCaption': 'mit der Stimme deines Coachs',
  'page.swings': 'Momente, auf die es ankommt',
  'page.swingsShort': 'Schwünge',
  'page.plan': 'Bis zum nächsten Mal',
  'page.planShort': 'Üben',
  'page.next': 'Nächste Stunde',
  'page.nextShort': 'Weiter',
  'page.howMuch': 'Wie viel',
  'page.watchFor': 'Achte auf',
  'page.looksLike': 'So sieht „{drill}“ aus',
  'page.moments': 'Momente',
  'page.block': 'Abschnitt',
  'page.club': 'Schläger',
  'page.shotCount': 'Schläge',
  'page.takenAs': '{metrics} (als {unit} gelesen)',
  'page.unitNote':
    'Die Datei des Messgeräts nennt für einige Zahlen keine Einheit, deshalb wurde eine angenommen: {which}.',
  'page.footer':
    'Die Zahlen sind die eigenen Messungen dieser Stunde. Die Clips laufen in dem Tempo, das daneben steht. Erstellt mit Leadside.',

  'caution.warmUp': 'Wärm dich vor dem Üben auf, in Bewegung und nicht mit Dehnen im Stehen.',
  'caution.stop':
    'Hör auf, wenn etwas wehtut. Geh bei einer Verletzung oder bei Schmerzen, die wiederkommen, zu medizinischem Fachpersonal, bevor du weitermachst.',
  'caution.lookAround':
    'Sieh dich vor jedem Schwung um: niemand und nichts in Reichweite des Schlägers. Halte dich an die Regeln der Anlage.',
  'caution.buildUp':
    'Steigere dich langsam, und mach Pausen zwischen den Durchgängen. Dieser Plan ergänzt deine Stunden; er ersetzt keinen medizinischen oder fachlichen Rat.',

  'clip.realSpeed': 'echtes Tempo',
  'clip.partOfRealSpeed': '1/{n} des echten Tempos',
  'clip.percentOfRealSpeed': '{n} % des echten Tempos',
  'clip.swing': 'Schwung {n}',
  'clip.holdsOn': 'hält an bei: {moments}',
  'clip.holdingOn': '{title}, {speed}, hält an bei: {moments}',
  'clip.plain': '{title}, {speed}',
  'clip.beforeImpact': '{moment}, {time} vor dem Treffmoment',
  'clip.afterImpact': '{moment}, {time} nach dem Treffmoment',
  'clip.drawn': 'darauf gezeichnet: {labels}',
  'clip.marked': 'markiert: {cues}',
  'clip.strength1': 'etwas',
  'clip.strength2': 'deutlich',
  'clip.strength3': 'stark',
  'clip.leftRight': 'links {first}, rechts {second}',
  'clip.over': '{second} über {first} gelegt',
  'clip.mirrored': '{title} (gespiegelt)',
  'clip.stills': 'Standbilder',
  'clip.together': 'gemeinsam bei: {moments}',
  'clip.bothAt': 'Beide: {moment}',
  'clip.stretched': ', zeitlich angepasst',
  'clip.upperStretched': '; oberer Schwung zeitlich angepasst',
  'clip.lowerSpeed': '{speed} (unterer Schwung)',
  'clip.leftSpeed': '{speed} (linker Schwung)',
  'clip.rightIsStretched': 'rechter Schwung zeitlich angepasst',
  'clip.upperIsStretched': 'oberer Schwung zeitlich angepasst',
  'clip.computed': '{value} (berechnet)',

  'chart.title': '{metric}, jeder Schlag mit {club}; die Linien sind die Mitte jedes Abschnitts',
  'chart.titleStep':
    '{metric}, jeder Schlag mit {club}; die Linien sind die Mitte jedes Abschnitts; wo der Streifen liegt, hat sich die Höhe verändert',
  'chart.text': '{metric}, {club}: {blocks}',
  'chart.textStep':
    '{metric}, {club}: {blocks}; zwischen Schlag {from} und Schlag {to} hat sich die Höhe verändert',
  'chart.notRecorded': '{block} nicht gemessen',
  'chart.shot': 'Schlag',

  'moment.setup': 'Ansprechposition',
  'moment.takeaway': 'Schwungbeginn',
  'moment.top': 'höchster Punkt',
  'moment.brace': 'Abstützen',
  'moment.impact': 'Treffmoment',
  'moment.release': 'Freigeben',
  'moment.finish': 'Endposition',
  'moment.grip': 'Griff',
  'moment.face': 'Schlagfläche',
  'moment.ground': 'Boden',

  'cueKind.tension-face': 'Anspannung: Kiefer und Gesicht',
  'cueKind.tension-shoulders': 'Anspannung: Schultern',
  'cueKind.tension-arms': 'Anspannung: Arme',
  'cueKind.tension-hands': 'Anspannung: Hände',
  'cueKind.bracing-firm': 'Vordere Seite fest',
  'cueKind.bracing-late': 'Vordere Seite spät',
  'cueKind.bracing-slides': 'Vordere Seite rutscht durch',
  'cueKind.release': 'Freigeben',
  'cueKind.grip': 'Griff',
  'cueKind.stance': 'Stand',
  'cueKind.strike': 'Treffer',

  'block.baseline': 'Ausgangslage',
  'block.numbered': 'Abschnitt {n}',

  'club.unknown': 'unbekannter Schläger',
  'club.wood': 'Holz {n}',
  'club.hybrid': 'Hybrid {n}',
  'club.iron': 'Eisen {n}',

  'label.efficiency': 'Effizienz',
  'label.clubSpeedMps': 'Schlägergeschwindigkeit',
  'label.ballSpeedMps': 'Ballgeschwindigkeit',
  'label.carryM': 'Flugweite',
  'label.tempoRatio': 'Rhythmus',
  'label.leadKneeImpactDeg': 'vorderes Knie im Treffmoment',
  'label.headAlongImpactWidths': 'Kopf entlang der Ziellinie, Ansprechposition bis Treffmoment',
  'unit.shoulderWidths': 'Schulterbreiten',
}
