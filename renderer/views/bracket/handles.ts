import type { BracketSpec } from '../../../core/bracket';
import type { Face } from '../../state/bracket-desk';
import { type Handle, type Kit, makeKit } from './handle-kit';
import { flatHandles } from './handles-flat';
import { frontHandles } from './handles-front';
import { sideHandles } from './handles-side';
import { topHandles } from './handles-top';

export type { Dim, Handle } from './handle-kit';

const BY_FACE: Record<Face, (kit: Kit) => void> = {
  top: topHandles,
  side: sideHandles,
  front: frontHandles,
  flat: flatHandles,
};

/** All that can be dragged in a face, the bracket's own sizes in mm; see `faces.ts` for where 0 lies. */
export function handlesOf(spec: BracketSpec, face: Face): Handle[] {
  const kit = makeKit(spec);
  BY_FACE[face](kit);
  return kit.found;
}
