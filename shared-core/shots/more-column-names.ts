import type { ColumnTarget } from './column-target.ts'

/**
 * The same trade words in Swedish, Danish and Norwegian, Italian, Dutch, Portuguese, Finnish, Japanese, Korean and Chinese.
 * Common practice, from memory, no source.
 */
export const moreNames: Partial<Readonly<Record<ColumnTarget, readonly string[]>>> = {
  clubSpeedMps: [
    'klubbhastighet', 'klubbhuvudhastighet', 'svinghastighet', 'køllehastighed', 'kølle hastighed', 'køllehodehastighet', 'køllehastighet',
    'velocità bastone', 'velocità del bastone', 'velocità testa bastone', 'velocità della testa del bastone', 'velocità mazza',
    'clubsnelheid', 'clubhoofdsnelheid', 'club snelheid', 'swingsnelheid', 'velocidade do taco', 'velocidade taco', 'velocidade da cabeça do taco',
    'mailan nopeus', 'mailanpään nopeus', 'ヘッドスピード', 'ヘッド速度', 'クラブスピード', 'クラブヘッドスピード', 'h/s', '헤드스피드', '클럽스피드', '클럽 스피드', '杆头速度', '桿頭速度', '挥杆速度',
  ],
  ballSpeedMps: [
    'bollhastighet', 'boldhastighed', 'ballhastighet', 'velocità palla', 'velocità della palla', 'velocità pallina', 'balsnelheid', 'bal snelheid',
    'velocidade da bola', 'velocidade bola', 'pallon nopeus', 'ボールスピード', 'ボール速度', 'ボール初速', '初速', '볼스피드', '볼 스피드', '球速', '球速度',
  ],
  launchDeg: [
    'utgångsvinkel', 'startvinkel', 'udgangsvinkel', 'utgangsvinkel', 'angolo di lancio', 'angolo lancio', 'angolo di partenza', 'lanceerhoek', 'vertrekhoek',
    'ângulo de lançamento', 'ângulo de saída', 'lähtökulma', '打ち出し角', '打出角', '打ち出し角度', '打出し角', '発射角', '발사각', '起飞角', '發射角',
  ],
  launchDirectionDeg: [
    'utgångsriktning', 'startriktning', 'startretning', 'direzione di lancio', 'direzione di partenza', 'lanceerrichting', 'startrichting',
    'direção de lançamento', 'direção de saída', 'lähtösuunta', '打ち出し方向', '打出方向', '打ち出し方向角', '방향각', '起飞方向',
  ],
  spinRpm: [
    'spinn', 'spinnhastighet', 'totalspinn', 'spin totale', 'rotazione', 'totale spin', 'spinsnelheid', 'rotação', 'taxa de spin', 'kierre',
    'スピン量', 'スピン', 'トータルスピン', 'スピン数', '회전수', '스핀량', '스핀', '旋转', '自旋', '总旋转',
  ],
  spinAxisDeg: ['spinnaxel', 'spinakse', 'asse di spin', 'asse di rotazione', 'spinas', 'spin as', 'eixo de spin', 'eixo de rotação', 'スピン軸', '회전축', '旋转轴'],
  carryM: [
    'carrylängd', 'carry längd', 'carrylængde', 'carrylengde', 'distanza carry', 'carry distanza', 'volo', 'carry afstand', 'carryafstand', 'distância de voo', 'distância carry',
    'kantama', 'キャリー', 'キャリー距離', '캐리', '캐리거리', '落点距离', '飞行距离',
  ],
  totalM: [
    'total längd', 'totallängd', 'totallengde', 'total længde', 'distanza totale', 'totale afstand', 'afstand', 'distância total', 'kokonaispituus',
    'トータル', '総距離', 'トータル距離', '飛距離', '총거리', '비거리', '总距离',
  ],
  sideM: [
    'sidledes avvikelse', 'sidoavvikelse', 'sida', 'avvikelse', 'sideafvigelse', 'sideavvik', 'avvik', 'deviazione', 'deviazione laterale', 'scarto laterale',
    'zijwaartse afwijking', 'afwijking', 'zijafwijking', 'desvio', 'desvio lateral', 'sivupoikkeama', '左右ブレ', 'サイド', '左右', 'ブレ', '좌우', '좌우편차', '侧偏', '偏移',
  ],
  apexM: [
    'maxhöjd', 'höjd', 'topphöjd', 'højde', 'høyde', 'altezza massima', 'altezza', 'maximale hoogte', 'hoogte', 'altura máxima', 'lakikorkeus',
    '最高到達点', '高さ', '最高点', '頂点', '최고높이', '최고점', '最高点',
  ],
  descentDeg: [
    'landningsvinkel', 'landingsvinkel', 'nedslagsvinkel', 'angolo di atterraggio', 'angolo di caduta', 'landingshoek', 'ângulo de aterragem', 'ângulo de descida', 'laskukulma',
    '落下角', '落下角度', '착지각', '落地角',
  ],
  flightSeconds: ['flygtid', 'hängtid', 'flyvetid', 'flytid', 'tempo di volo', 'vluchttijd', 'vluchtduur', 'tempo de voo', 'lentoaika', '滞空時間', '체공시간', '滞空时间'],
  attackDeg: [
    'attackvinkel', 'angrebsvinkel', 'angrepsvinkel', "angolo d'attacco", 'angolo di attacco', 'aanvalshoek', 'ângulo de ataque', 'tulokulma',
    'アタックアングル', '入射角', 'アタック角', '어택앵글', '攻角',
  ],
  clubPathDeg: [
    'klubbana', 'svingbana', 'køllebane', 'svingbane', 'percorso bastone', 'percorso del bastone', 'traiettoria bastone', 'clubpad', 'zwaaipad', 'caminho do taco', 'mailan rata',
    'クラブパス', 'スイング軌道', 'クラブ軌道', '클럽패스', '杆头轨迹',
  ],
  faceDeg: ['bladvinkel', 'klubbladsvinkel', 'angolo faccia', 'angolo della faccia', 'clubbladhoek', 'ângulo da face', 'lavan kulma', 'フェースアングル', 'フェース角', 'フェイスアングル', '페이스앵글', '杆面角度'],
  dynamicLoftDeg: ['dynamisk loft', 'dynamiskt loft', 'loft dinamico', 'dynamische loft', 'ダイナミックロフト', '다이나믹로프트', '动态杆面倾角'],
  spinBackRpm: ['backspinn', 'バックスピン', '백스핀', '后旋', '倒旋'],
  spinSideRpm: ['sidospinn', 'sidespinn', 'spin laterale', 'zijspin', 'サイドスピン', '사이드스핀', '侧旋'],
  smash: ['fattore di smash', 'fator de smash', 'ミート率', 'スマッシュファクター', '스매시팩터', '스매쉬팩터', '击球效率'],
  faceToPathDeg: ['face to path winkel', 'blad mot bana', 'フェースtoパス', 'フェーストゥパス'],
  club: ['klubba', 'klubb', 'kølle', 'bastone', 'mazza', 'stok', 'taco', 'maila', 'クラブ', '番手', '클럽', '球杆', '球桿'],
  at: ['tidsstämpel', 'datum och tid', 'tidspunkt', 'dato og tid', 'data e ora', 'data ora', 'tijdstip', 'datum en tijd', 'data e hora', 'päivämäärä ja aika', '日時', '일시', '日期时间'],
  date: ['data', 'dato', 'päivämäärä', 'pvm', '日付', '日期', '날짜'],
  time: ['tid', 'klockslag', 'klokkeslæt', 'klokkeslett', 'ora', 'orario', 'tijd', 'aika', 'kello', '時刻', '時間', '시간', '时间'],
  block: ['omgång', 'omgang', 'blocco', 'blok', 'bloco', 'sarja', 'ブロック', '블록'],
  shotNumber: ['slag', 'slag nr', 'slagnummer', 'colpo', 'colpo n', 'n', 'tiro', 'lyönti', '番号', 'ショット', 'ショット番号', '번호', '샷', '序号', '编号'],
} // prettier-ignore
