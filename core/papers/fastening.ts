import { bracketSpecOf, isPinned, tapDrillMm, type ThreadName } from '../bracket';
import { formatNumber } from '../drawing';
import type { Bracket } from '../job';
import { DEFAULTS } from '../strength';

/** What goes through a bracket's holes: as the job says, never guessed from a hole. Null: the job does not say. */
export interface Fastening {
  readonly fixing: ThreadName | null;
  readonly stud: ThreadName | null;
  /** A sentence each, for a drawing. */
  readonly words: readonly string[];
}

/** Where nothing is known of it. */
export const NO_FASTENING: Fastening = { fixing: null, stud: null, words: [] };

const nominalMm = (thread: ThreadName): number => Number(thread.slice(1));

/** Words round a hole's diameter: what goes through it; a hole under its thread is tapped, and its size is the core's (ISO 6410-1). */
export function holeFor(
  diameterMm: number,
  thread: ThreadName | null,
): { readonly before: string; readonly after: string } {
  if (!thread) return { before: '⌀', after: '' };
  return nominalMm(thread) > diameterMm + 1e-6
    ? { before: `${thread} tapped, core ⌀`, after: '' }
    : { before: '⌀', after: ` for ${thread}` };
}

const INTO: Readonly<Record<string, (thread: string) => string>> = {
  through: (thread) => `bolt${thread} with nut and washers, through the mount`,
  tapped: (thread) => `screw${thread} in a tapped hole of the mount`,
  insert: (thread) => `screw${thread} in an insert set in the mount`,
  wood: () => 'wood or coach screw',
  rivet: () => 'blind rivet',
};

/** What a job says of a bracket's screws and stud, in words; what it leaves open is said to be open. */
export function fasteningOf(bracket: Bracket): Fastening {
  const spec = bracketSpecOf(bracket);
  const fixing = bracket.attach?.thread ?? null;
  const stud = bracket.stud?.thread ?? null;
  const words: string[] = [];
  const count = spec.fixings.length;
  if (spec.attachedBy !== 'weld' && count > 0) {
    const grade = bracket.attach?.propertyClass;
    const threaded = spec.into !== 'wood' && spec.into !== 'rivet';
    const what = INTO[spec.into]!(fixing ? ` ${fixing}${grade ? `, class ${grade},` : ','}` : '');
    const open = threaded && !fixing ? ' Thread not stated in the job: settle it before drilling.' : '';
    const screw = bracket.attach?.screw;
    const size = screw ? ` ⌀${formatNumber(screw.diameterMm, 1)} × ${formatNumber(screw.lengthMm, 1)}` : '';
    words.push(`Fixing holes: ${what}${size}.${open}`);
  }
  const grade = bracket.stud?.propertyClass;
  const name = isPinned(spec) ? 'Pin' : 'Ball stud';
  words.push(
    stud
      ? `${name} ${stud}${grade ? `, class ${grade}` : ''}: ${
          nominalMm(stud) > spec.studHole.diameterMm + 1e-6
            ? `in the tapped hole (${stud}, ISO 965 class 6H).`
            : isPinned(spec)
              ? 'through both holes.'
              : 'in a clearance hole, with nut and washer.'
        }`
      : `${name}: thread not stated in the job; buy it to fit the hole.`,
  );
  return { fixing, stud, words };
}

/** Core hole to drill in a mount for a coarse thread, in words. */
export const coreHoleWords = (thread: ThreadName): string => `⌀${formatNumber(tapDrillMm[thread], 1)}`;

/** Throat of the weld on the mount as strength counts it, mm; null where the bracket is not welded. */
export function countedThroatMm(bracket: Bracket): { readonly throatMm: number; readonly assumed: boolean } | null {
  const { attach, seat } = bracket;
  if ((attach?.by ?? 'bolts') === 'bolts') return null;
  if (attach?.weldThroatMm !== undefined) return { throatMm: attach.weldThroatMm, assumed: false };
  const thinMm = Math.min(bracket.thicknessMm, seat?.thicknessMm ?? Infinity);
  return { throatMm: DEFAULTS.throatShare * thinMm, assumed: true };
}
