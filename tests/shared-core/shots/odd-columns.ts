import type { MetricName } from '../../../shared-core/model/shot.ts'

/* Trade words for columns, spelled as people, programs and spreadsheets spell them. Common practice, no source. */

export const languages = ['en', 'de', 'fr', 'es', 'sv', 'it', 'nl', 'ja'] as const
export type Language = (typeof languages)[number]

export type FieldName =
  | 'clubSpeed' | 'ballSpeed' | 'launch' | 'startLine' | 'spin' | 'spinAxis' | 'carry' | 'total' | 'side' | 'apex'
  | 'land' | 'hang' | 'attack' | 'path' | 'smash' // prettier-ignore

export type Field = {
  metric: MetricName | null
  kind: 'speed' | 'angle' | 'length' | 'spin' | 'time' | 'ratio'
  digits: number
  isSided?: boolean
  names: Record<Language, readonly string[]>
}

export const fields: Record<FieldName, Field> = {
  clubSpeed: {
    metric: 'clubSpeedMps', kind: 'speed', digits: 1,
    names: {
      en: ['Club Speed', 'Club Head Speed', 'club_speed', 'ClubSpeed', 'CLUB SPEED', 'Swing Speed', 'Clubhead speed'],
      de: ['Schlägerkopfgeschwindigkeit', 'Schlägergeschw.', 'Schlägerkopfgeschw'], fr: ['Vitesse du club', 'Vitesse tête de club'],
      es: ['Velocidad del palo', 'Vel. palo'], sv: ['Klubbhastighet', 'Klubbhuvudhastighet'], it: ['Velocità bastone', 'Velocità del bastone'],
      nl: ['Clubsnelheid', 'Clubhoofdsnelheid'], ja: ['ヘッドスピード', 'ヘッド速度'],
    },
  },
  ballSpeed: {
    metric: 'ballSpeedMps', kind: 'speed', digits: 1,
    names: {
      en: ['Ball Speed', 'ball_speed', 'BallSpeed', 'BALL SPEED', 'Ball velocity', 'Ball Spd'],
      de: ['Ballgeschwindigkeit', 'Ballgeschw.'], fr: ['Vitesse de balle', 'Vitesse balle'], es: ['Velocidad de la bola', 'Vel. bola'],
      sv: ['Bollhastighet'], it: ['Velocità palla', 'Velocità della palla'], nl: ['Balsnelheid'], ja: ['ボールスピード', 'ボール初速'],
    },
  },
  launch: {
    metric: 'launchDeg', kind: 'angle', digits: 1,
    names: {
      en: ['Launch Angle', 'Vertical Launch', 'VLA', 'launch_angle', 'Launch'], de: ['Abflugwinkel'], fr: ['Angle de lancement', 'Angle de décollage'],
      es: ['Ángulo de salida', 'Ángulo de lanzamiento'], sv: ['Utgångsvinkel'], it: ['Angolo di lancio'], nl: ['Lanceerhoek'], ja: ['打ち出し角', '打出角'],
    },
  },
  startLine: {
    metric: 'launchDirectionDeg', kind: 'angle', digits: 1, isSided: true,
    names: {
      en: ['Launch Direction', 'HLA', 'Start Line', 'Horizontal Launch', 'Azimuth'], de: ['Startrichtung', 'Abflugrichtung'], fr: ['Direction de départ', 'Direction de lancement'],
      es: ['Dirección de salida'], sv: ['Utgångsriktning'], it: ['Direzione di lancio'], nl: ['Lanceerrichting'], ja: ['打ち出し方向'],
    },
  },
  spin: {
    metric: 'spinRpm', kind: 'spin', digits: 0,
    names: {
      en: ['Spin Rate', 'Total Spin', 'Spin', 'spin_rate', 'Ball Spin'], de: ['Gesamtspin', 'Spinrate', 'Drall'], fr: ['Taux de spin', 'Spin total'],
      es: ['Tasa de spin', 'Spin total'], sv: ['Spinn', 'Spinnhastighet'], it: ['Spin totale', 'Rotazione'], nl: ['Spin', 'Totale spin'], ja: ['スピン量', 'スピン'],
    },
  },
  spinAxis: {
    metric: 'spinAxisDeg', kind: 'angle', digits: 1, isSided: true,
    names: {
      en: ['Spin Axis', 'Axis Tilt', 'spin_axis'], de: ['Spinachse', 'Drehachse'], fr: ['Axe de spin', 'Axe de rotation'], es: ['Eje de spin', 'Eje de giro'],
      sv: ['Spinnaxel'], it: ['Asse di spin'], nl: ['Spinas'], ja: ['スピン軸'],
    },
  },
  carry: {
    metric: 'carryM', kind: 'length', digits: 1,
    names: {
      en: ['Carry', 'Carry Distance', 'CarryDistance', 'carry_dist', 'CARRY'], de: ['Carry Distanz', 'Flugweite', 'Carry-Länge'], fr: ['Distance de carry', 'Carry', 'Portée'],
      es: ['Distancia de vuelo', 'Carry'], sv: ['Carrylängd', 'Carry'], it: ['Carry', 'Distanza carry'], nl: ['Carry', 'Carry afstand'], ja: ['キャリー', 'キャリー距離'],
    },
  },
  total: {
    metric: 'totalM', kind: 'length', digits: 1,
    names: {
      en: ['Total Distance', 'Total', 'total_distance', 'Total Dist.'], de: ['Gesamtdistanz', 'Gesamtweite'], fr: ['Distance totale'], es: ['Distancia total'],
      sv: ['Total längd', 'Totallängd'], it: ['Distanza totale'], nl: ['Totale afstand'], ja: ['トータル', '総距離'],
    },
  },
  side: {
    metric: 'sideM', kind: 'length', digits: 1, isSided: true,
    names: {
      en: ['Side', 'Offline', 'Lateral', 'Side Carry', 'Offline Distance'], de: ['Seitliche Abweichung', 'Abweichung'], fr: ['Déviation', 'Écart latéral'],
      es: ['Desviación', 'Desviación lateral'], sv: ['Sidledes avvikelse', 'Sida'], it: ['Deviazione', 'Deviazione laterale'], nl: ['Zijwaartse afwijking', 'Afwijking'], ja: ['左右ブレ', 'サイド'],
    },
  },
  apex: {
    metric: 'apexM', kind: 'length', digits: 1,
    names: {
      en: ['Apex', 'Max Height', 'Peak Height', 'apex_height'], de: ['Scheitelhöhe', 'Maximale Höhe'], fr: ['Hauteur maximale', 'Apogée'], es: ['Altura máxima'],
      sv: ['Maxhöjd', 'Höjd'], it: ['Altezza massima'], nl: ['Maximale hoogte'], ja: ['最高到達点', '高さ'],
    },
  },
  land: {
    metric: 'descentDeg', kind: 'angle', digits: 1,
    names: {
      en: ['Landing Angle', 'Descent Angle', 'Land. Angle'], de: ['Landewinkel'], fr: ["Angle d'atterrissage", 'Angle de descente'], es: ['Ángulo de caída'],
      sv: ['Landningsvinkel'], it: ['Angolo di atterraggio'], nl: ['Landingshoek'], ja: ['落下角', '落下角度'],
    },
  },
  hang: {
    metric: 'flightSeconds', kind: 'time', digits: 2,
    names: {
      en: ['Hang Time', 'Flight Time', 'Air Time'], de: ['Flugzeit'], fr: ['Temps de vol'], es: ['Tiempo de vuelo'], sv: ['Flygtid', 'Hängtid'], it: ['Tempo di volo'],
      nl: ['Vluchttijd', 'Vluchtduur'], ja: ['滞空時間'],
    },
  },
  attack: {
    metric: 'attackDeg', kind: 'angle', digits: 1,
    names: {
      en: ['Attack Angle', 'AoA', 'Angle of Attack', 'attack_angle'], de: ['Eintreffwinkel', 'Angriffswinkel'], fr: ["Angle d'attaque"], es: ['Ángulo de ataque'],
      sv: ['Attackvinkel'], it: ["Angolo d'attacco", 'Angolo di attacco'], nl: ['Aanvalshoek'], ja: ['アタックアングル', '入射角'],
    },
  },
  path: {
    metric: 'clubPathDeg', kind: 'angle', digits: 1, isSided: true,
    names: {
      en: ['Club Path', 'Swing Path', 'club_path', 'Path'], de: ['Schlägerpfad', 'Schwungbahn'], fr: ['Chemin du club', 'Chemin de club'], es: ['Trayectoria del palo'],
      sv: ['Klubbana', 'Svingbana'], it: ['Percorso bastone', 'Traiettoria bastone'], nl: ['Clubpad', 'Zwaaipad'], ja: ['クラブパス', 'スイング軌道'],
    },
  },
  smash: {
    metric: null, kind: 'ratio', digits: 2,
    names: {
      en: ['Smash Factor', 'Efficiency', 'smash'], de: ['Smashfaktor'], fr: ['Facteur de smash'], es: ['Factor de smash'], sv: ['Smashfaktor'], it: ['Fattore di smash'],
      nl: ['Smash factor'], ja: ['ミート率'],
    },
  },
} // prettier-ignore

export const textNames: Record<'club' | 'number' | 'date' | 'time' | 'at' | 'block', Record<Language, readonly string[]>> = {
  club: { en: ['Club', 'Club Type', 'club', 'Club Name'], de: ['Schläger'], fr: ['Club', 'Canne'], es: ['Palo'], sv: ['Klubba'], it: ['Bastone'], nl: ['Club', 'Stok'], ja: ['クラブ', '番手'] },
  number: { en: ['Shot', '#', 'No.', 'Shot Number', 'Shot #'], de: ['Schlag', 'Nr.', 'Schlag Nr.'], fr: ['Coup', 'N°'], es: ['Golpe', 'Nº'], sv: ['Slag', 'Nr'], it: ['Colpo', 'N.'], nl: ['Slag', 'Nr.'], ja: ['番号', 'No.'] },
  date: { en: ['Date', 'Shot Date'], de: ['Datum'], fr: ['Date'], es: ['Fecha'], sv: ['Datum'], it: ['Data'], nl: ['Datum'], ja: ['日付'] },
  time: { en: ['Time', 'Time of Day'], de: ['Uhrzeit', 'Zeit'], fr: ['Heure'], es: ['Hora'], sv: ['Tid', 'Klockslag'], it: ['Ora', 'Orario'], nl: ['Tijd'], ja: ['時刻', '時間'] },
  at: { en: ['Timestamp', 'Date Time', 'Date', 'Time'], de: ['Zeitstempel', 'Datum/Uhrzeit'], fr: ['Date et heure', 'Horodatage'], es: ['Fecha y hora'], sv: ['Tidsstämpel', 'Datum och tid'], it: ['Data e ora'], nl: ['Tijdstip', 'Datum en tijd'], ja: ['日時'] },
  block: { en: ['Block', 'Set'], de: ['Block', 'Abschnitt'], fr: ['Bloc', 'Série'], es: ['Bloque'], sv: ['Block', 'Omgång'], it: ['Blocco', 'Serie'], nl: ['Blok'], ja: ['ブロック'] },
} // prettier-ignore

export const unitSpellings: Record<string, readonly string[]> = {
  mph: ['mph', 'MPH', 'mi/h', 'Mph'],
  'km/h': ['km/h', 'kmh', 'KPH', 'km/t', 'Km/H'],
  'm/s': ['m/s', 'mps', 'M/S', 'm/sek', 'm/sec'],
  yd: ['yd', 'yds', 'Yards', 'YDS', 'yard', 'y'],
  m: ['m', 'Meter', 'meters', 'M', 'mtr', 'metri', 'mètres'],
  ft: ['ft', 'feet', 'Ft', 'ft.'],
  deg: ['deg', '°', 'Degrees', 'º', 'grad', 'Grad', 'degrés', 'gradi', 'graden', 'grader', '度'],
  rpm: ['rpm', 'RPM', 'U/min', 'tr/min', 'r/min', 'varv/min', 'giri/min', 't/min', 'rev/min'],
  s: ['s', 'sec', 'Sek', 'sek', 'secs', '秒'],
}

export const clubSpellings: Record<string, readonly string[]> = {
  driver: ['Driver', 'DR', 'W1', '1W', 'driver', '1 Wood', 'D', 'Dr.'],
  '3-wood': ['3 Wood', '3W', 'Holz 3', 'Bois 3', 'Madera 3', '3-wood', '3 Fairway Wood'],
  '4-hybrid': ['4 Hybrid', '4 Rescue', 'H4', '4H', 'Hybrid 4', 'Hybride 4', '4U'],
  '7-iron': ['7 Iron', '7i', 'I7', 'Eisen 7', 'Fer 7', '7', 'Hierro 7', 'Järn 7', 'Ferro 7', '7-iron', '7番アイアン', 'Iron 7'],
  'pitching-wedge': ['PW', 'Pitching Wedge', 'P-Wedge', 'Pitching wedge', 'pw'],
  'sand-wedge': ['SW', 'Sand Wedge', '56°', '56 deg', 'SW 56', 'sw'],
  putter: ['Putter', 'PT', 'Putter'],
} // prettier-ignore

export const summaryLabels = [
  'Average', 'Session Average', 'Average (3 shots)', 'Avg.', 'AVG', 'Mean', 'Durchschnitt', 'Ø', 'Mittelwert', 'Moy.', 'Moyenne', 'Promedio', 'Media',
  'Gemiddelde', 'Gemiddeld', 'Medelvärde', 'Snitt', 'Gjennomsnitt', 'Gennemsnit', 'Keskiarvo', 'Średnia', 'Průměr', 'Átlag', 'Ortalama', 'Среднее', '平均',
  '평균', 'Média', 'Averages:', 'Mittel', 'x̄', 'Total / Average', 'Team Average', 'Summary', 'Zusammenfassung', 'Résumé', 'Ave', 'Session', 'Overall', '合計/平均', 'Shots: 12 Avg',
] as const // prettier-ignore
export const spreadLabels = [
  'Std Dev', 'Std. Dev.', 'StdAbw', 'Standardabweichung', 'Écart type', 'Écart-type', 'Desv. Est.', 'σ', 'Consistency', '±', 'SD', 'Standardavvikelse',
  'Deviazione standard', 'Desvio padrão', 'Standaardafwijking', '標準偏差', 'Deviation', 'Spread', 'Streuung', 'Dispersion', 'CV',
] as const // prettier-ignore
export const extremeLabels = {
  smallest: ['Min', 'Minimum', 'Lowest', 'Mín.', 'Min.', '最小', 'Worst'],
  largest: ['Max', 'Maximum', 'Best', 'Highest', 'Máx.', '最大', 'Max.'],
} as const
