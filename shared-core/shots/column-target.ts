import type { MetricName } from '../model/shot.ts'

/** Numbers that some files give and that have no place of their own in a shot; used to fill or to check others. */
export type HelperName = 'spinBackRpm' | 'spinSideRpm' | 'smash' | 'faceToPathDeg'
/** What a column can be: a number of the shot, a helper number, or one of the texts. */
export type NumberTarget = MetricName | HelperName

/** What a column of texts can be. */
export type TextTarget = 'club' | 'at' | 'date' | 'time' | 'block' | 'shotNumber'

/** What a column can be. */
export type ColumnTarget = NumberTarget | TextTarget
