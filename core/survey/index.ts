export { VIEW_AXES, type ViewName } from './equations';
export * from './instruments';
export { adjustSurvey, applySurvey, type SurveyPoint, type SurveyReading, type SurveyResult } from './adjust';
export { type SurveyCamera } from './photo-cameras';
export { suggestReading, type Suggestion } from './suggest';
export { readingName } from './readings';
export { relationName } from './relations';
export * from './edits';
export * from './mark-edits';
export * from './keep';
export * from './relation-question';
export * from './posed-move';
export { holdsClosedOnly } from './closed-only';
export * from './report';
export { presentPlace, presentValue } from './present';
export { directionText } from './words';
export { ellipseFactor, ellipseIn, ellipsoidFactor, type ErrorEllipse } from './spread';
export { isRelated, makeNetwork, pointsOfRelation, type Network } from './network';
export { layOut, type Layout } from './layout';
export * from './entry';
export {
  MOST_READINGS,
  formatReadings,
  parseReadings,
  readingsLimits,
  type LineProblem,
  type ParsedReadings,
} from './csv';
export { datumOf, type Datum } from './datum';
export * from './point-sigma';
export * from './known';
export * from './plan';
