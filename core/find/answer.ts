import type { JobBracket, Spec } from '../job';
import type { Vec3 } from '../space';
import type { Field, FieldOptions } from './field';
import { fieldOf } from './field';
import type { Job } from '../job';
import type { Place } from './place';
import { type Fails, type Nearest, type Relaxed, failOf, relaxSteps } from './relax';
import { type Found, type Progress, type SearchOptions, searchSteps } from './search';

/** What a job's places are: those that work, or the nearest and what would have to give. */
export interface Answer extends Found {
  readonly nearest: (Found['nearest'] & object) | null;
  /** Where none works: what would, and what it takes. */
  readonly relaxed: Nearest | null;
}

/** Looks for places, and where none works for what would have to be relaxed. */
export function* answerSteps(raw: Job, options: FieldOptions & SearchOptions = {}): Generator<Progress, Answer, void> {
  const field: Field = fieldOf(raw, options);
  const found = yield* searchSteps(field, options);
  return { ...found, relaxed: found.places.length > 0 ? null : yield* relaxSteps(field, options) };
}

/** answerSteps run to its end; null where onProgress says false. */
export function answer(
  raw: Job,
  options: FieldOptions & SearchOptions & { readonly onProgress?: (progress: Progress) => boolean | void } = {},
): Answer | null {
  const steps = answerSteps(raw, options);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    if (options.onProgress?.(step.value) === false) return null;
  }
}

/** A place as other programs read it. */
interface PlaceFile {
  readonly base: Vec3;
  readonly lid: Vec3;
  readonly quantity: 1 | 2;
  readonly openDeg: number;
  readonly spec: Spec | null;
  readonly entry: string | null;
  readonly stems: { readonly base: Vec3; readonly lid: Vec3 } | null;
  readonly spare: number;
  readonly tightest: { readonly id: string; readonly case: string | null };
  readonly playMm: number;
  readonly liftN: number | null;
  readonly pullN: number | null;
  readonly greatestForceN: number | null;
  readonly greatestHingeN: number | null;
  /** What is not known and refuses nothing: finding ids. */
  readonly unknown: readonly string[];
  /** First brackets, as in the job, where zones say what they are made of. */
  readonly brackets?: readonly JobBracket[];
}

/** The answer as it is written for other programs. */
export interface PlacesFile {
  readonly format: 'lidwright-places';
  readonly version: 1;
  readonly tried: { readonly pairs: number; readonly struts: number; readonly seconds: number };
  readonly places: readonly PlaceFile[];
  readonly nearest: (PlaceFile & { readonly fails: readonly Fails[]; readonly relax: readonly Relaxed[] }) | null;
}

function placeFile(place: Place, fits: boolean): PlaceFile {
  const { unstated: _unstated, ...spec } = place.spec;
  return {
    base: place.base,
    lid: place.lid,
    quantity: place.quantity,
    openDeg: place.openDeg,
    spec: fits ? (spec as Spec) : null,
    entry: fits ? place.entry : null,
    stems: fits ? { base: place.ends.base.stem, lid: place.ends.lid.stem } : null,
    spare: place.spare,
    tightest: place.tightest,
    playMm: place.playMm,
    liftN: place.liftN,
    pullN: place.pullN,
    greatestForceN: place.greatestForceN,
    greatestHingeN: place.greatestHingeN,
    unknown: [...new Set(place.unknown.map((f) => f.id))],
    ...(place.brackets && { brackets: Object.values(place.brackets) }),
  };
}

/** See PlacesFile; `seconds` from the job read to the answer ready. */
export function placesFile({ places, nearest, relaxed, tried }: Answer, seconds: number): PlacesFile {
  const near = (): PlacesFile['nearest'] => {
    if (relaxed) return { ...placeFile(relaxed.place, true), fails: relaxed.fails, relax: relaxed.relax };
    if (!nearest) return null;
    const fits = !nearest.refused.some((f) => f.id === 'strut-fits' && f.state === 'fails');
    return { ...placeFile(nearest.place, fits), fails: nearest.refused.map(failOf), relax: [] };
  };
  return {
    format: 'lidwright-places',
    version: 1,
    tried: { ...tried, seconds },
    places: places.map((place) => placeFile(place, true)),
    nearest: places.length > 0 ? null : near(),
  };
}
