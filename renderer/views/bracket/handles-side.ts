import type { Point2 } from '../../../core/bracket';
import { dim, fixingName, type Kit } from './handle-kit';

/** From the side: legs, heights, and how far the ball stands off. */
export function sideHandles(kit: Kit): void {
  const { spec, edge, hole, bent, channel, t, leg, up, stud, gusset, studId, studName, studAlong, studPlace } = kit;
  if (channel)
    edge({
      id: 'gap',
      name: 'Gap between the uprights',
      at: [t + spec.gapMm, up * 0.8],
      grows: [1, 0],
      value: spec.gapMm,
      dim: dim([t, up * 0.8], [t + spec.gapMm, up * 0.8], spec.gapMm, 'clear gap'),
    });
  else
    edge({
      id: 'free-end',
      name: bent ? 'Free end of the base leg' : 'Free end of the plate',
      at: [leg, t / 2],
      grows: [1, 0],
      value: leg,
      dim: dim([0, 0], [leg, 0], leg, bent ? 'base leg' : 'whole length'),
    });
  if (bent) {
    edge({
      id: 'upright-top',
      name: 'Top of the upright',
      at: [t / 2, up],
      grows: [0, 1],
      value: up,
      dim: dim([0, 0], [0, up], up, 'upright'),
    });
    hole({
      id: studId,
      name: studName,
      at: [t / 2, stud.heightMm],
      place: studPlace,
      across: [0, 0],
      along: [0, 1],
      dims: [dim([t / 2, 0], [t / 2, stud.heightMm], stud.heightMm, 'over the mount')],
    });
  } else {
    edge({
      id: 'stud-end',
      name: 'Stud’s end of the plate',
      at: [0, t / 2],
      grows: [-1, 0],
      value: leg,
      dim: dim([0, 0], [leg, 0], leg, 'whole length'),
      stays: 'far',
    });
    hole({
      id: studId,
      name: studName,
      at: [studAlong, t / 2],
      place: studPlace,
      across: [0, 0],
      along: [1, 0],
      dims: [dim([0, t / 2], [studAlong, t / 2], studAlong, 'from the stud’s end')],
    });
  }
  if (gusset) {
    edge({
      id: 'gusset-along',
      name: 'Gusset along the base',
      at: [t + gusset.alongMm, t],
      grows: [1, 0],
      value: gusset.alongMm,
      dim: dim([t, t], [t + gusset.alongMm, t], gusset.alongMm, 'gusset along'),
    });
    edge({
      id: 'gusset-up',
      name: 'Gusset up the upright',
      at: [t, t + gusset.upMm],
      grows: [0, 1],
      value: gusset.upMm,
      dim: dim([t, t], [t, t + gusset.upMm], gusset.upMm, 'gusset up'),
    });
  }
  // one handle for a row: the holes of a row lie one behind another here
  const seen = new Set<string>();
  spec.fixings.forEach((f, i) => {
    const key = f.fromEndMm.toFixed(2);
    if (seen.has(key)) return;
    seen.add(key);
    const at: Point2 = [leg - f.fromEndMm, 0];
    hole({
      id: f.id,
      name: fixingName(i),
      at,
      place: { acrossMm: f.acrossMm, alongMm: f.fromEndMm },
      across: [0, 0],
      along: [-1, 0],
      dims: [dim([leg, 0], at, f.fromEndMm, channel ? 'from the far upright' : 'from the end')],
    });
  });
  if (!channel) ballHandle(kit);
}

function ballHandle(kit: Kit): void {
  const { spec, edge, bent, t, stud, studAlong } = kit;
  const off = spec.ballOffsetMm;
  const inside = spec.ballSide === 'inside';
  if (bent) {
    const face0 = inside ? t : 0;
    const sign = inside ? 1 : -1;
    const at: Point2 = [face0 + sign * off, stud.heightMm];
    edge({
      id: 'ball',
      name: 'Ball',
      at,
      grows: [sign, 0],
      value: off,
      dim: dim([face0, stud.heightMm], at, off, 'from its face'),
    });
  } else if (spec.kind === 'flat-tab') {
    const face0 = inside ? 0 : t;
    const sign = inside ? -1 : 1;
    const at: Point2 = [studAlong, face0 + sign * off];
    edge({
      id: 'ball',
      name: 'Ball',
      at,
      grows: [0, sign],
      value: off,
      dim: dim([studAlong, face0], at, off, 'from its face'),
    });
  }
}
