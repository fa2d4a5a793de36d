/**
 * What a swing's pictures give, each with its unit in the name. They are metrics like those of a device, but belong to a
 * swing, with or without a shot record. Definitions and sources: shared-core/swing-measures.
 */
export const tempoMeasures = [
  'tempoRatio',
  'backswingSeconds',
  'downswingSeconds',
  'braceBeforeImpactSeconds',
] as const

/** What body points give, one number a swing. */
export const bodyMeasures = [
  'leadKneeSetupDeg',
  'leadKneeTopDeg',
  'leadKneeImpactDeg',
  'leadKneeStraighteningDegPerS',
  'headAlongTopWidths',
  'headAlongImpactWidths',
  'headUpImpactWidths',
  'pelvisAlongImpactWidths',
  'pelvisStopSeconds',
  'spineTiltSetupDeg',
  'spineTiltImpactDeg',
  'spineBendSetupDeg',
  'spineBendImpactDeg',
  'shoulderLineImpactDeg',
  'pelvisLineImpactDeg',
  'leadArmTopDeg',
  'leadElbowTopDeg',
  'shoulderRiseTopWidths',
] as const

/** Everything that pictures give, one number a swing. */
export const measureNames = [...tempoMeasures, ...bodyMeasures] as const
export type MeasureName = (typeof measureNames)[number]
