import type { BracketKind } from '../../job';
import { bentAngle } from './bent-angle';
import { channel } from './channel';
import { flatTab } from './flat-tab';
import { gussetAngle } from './gusset-angle';
import type { Kind } from './kind';
import { wedgePlate } from './wedge-plate';

export type { BracketEdge, Kind, OwnHandle, Plate, Room } from './kind';

/** Every kind of bracket under its name in the job (`BRACKET_KINDS` of core/job). */
export const KINDS: Readonly<Record<BracketKind, Kind>> = {
  'flat-tab': flatTab,
  'bent-angle': bentAngle,
  'gusset-angle': gussetAngle,
  channel,
  'wedge-plate': wedgePlate,
};
