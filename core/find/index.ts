export { type Answer, type PlacesFile, answer, answerSteps, placesFile } from './answer';
export { type Fitted, type PlaceEnd, applyPlace } from './apply';
export { type MapLine, contour } from './contour';
export { type Field, type FieldOptions, fieldOf } from './field';
export { type Place, type Tried, different } from './place';
export { type Found, type Progress, type SearchOptions, search, searchSteps } from './search';
export { type Site, ballAt, holds, missOf, referenceOn, siteOf } from './site';
export { type Verdict, judged, refuses, verdictOf } from './verdict';
export { type Fails, type Nearest, type Relaxed, relaxedJob } from './relax';
export { answerLines, bracketLines, decidedBy, failWords, placeLines, relaxWords, strutWords } from './words';
export {
  type Errors,
  type Share,
  type Study,
  STUDIED,
  USUAL_ERRORS,
  standard,
  studySteps,
  variantsOf,
} from './tolerance';
export {
  CELL,
  MAP_DEMANDS,
  MAP_STEPS,
  type MapGrid,
  type MapOptions,
  type Mapper,
  type WorksMap,
  cellAt,
  decidesAt,
  fullVerdict,
  mapSteps,
  mapperOf,
  withCells,
  zoneGrid,
} from './map';
export {
  type NewZone,
  addZone,
  insideOfLid,
  moveZone,
  moveZoneCorner,
  moveZoneCornerPosed,
  removeZone,
  sideWalls,
  turnZone,
} from './edits';
export { type Play, playNow } from './play';
export { type HowExact, type StudyFile, errorsOf, howExactSteps, playWords, studyFile, studyLines } from './study';
