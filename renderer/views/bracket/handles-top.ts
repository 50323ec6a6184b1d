import type { Point2 } from '../../../core/bracket';
import { dim, fixingName, type Kit } from './handle-kit';

/** From above: the base with its fixings; of a plate the stud too. */
export function topHandles(kit: Kit): void {
  const {
    spec,
    edge,
    hole,
    bent,
    channel,
    t,
    leg,
    stud,
    gusset,
    takes,
    half,
    topHalf,
    studId,
    studName,
    studAlong,
    studPlace,
  } = kit;
  // up the sheet: from the stud's end towards the free end
  const end = (fromEndMm: number): number => leg - fromEndMm;
  if (channel)
    edge({
      id: 'gap',
      name: 'Gap between the uprights',
      at: [half * 0.55, t + spec.gapMm],
      grows: [0, 1],
      value: spec.gapMm,
      dim: dim([half * 0.55, t], [half * 0.55, t + spec.gapMm], spec.gapMm, 'clear gap'),
    });
  else
    edge({
      id: 'free-end',
      name: bent ? 'Free end of the base leg' : 'Free end of the plate',
      at: [0, leg],
      grows: [0, 1],
      value: leg,
      dim: dim([-half, 0], [-half, leg], leg, bent ? 'base leg' : 'whole length'),
    });
  edge({
    id: 'side',
    name: 'Side of the base',
    at: [half, bent ? (takes + leg) / 2 : leg - spec.baseCornerRadiusMm],
    grows: [1, 0],
    value: half,
    dim: dim([-half, leg + 0], [half, leg + 0], 2 * half, 'width'),
  });
  if (!bent) {
    edge({
      id: 'stud-end',
      name: 'Stud’s end of the plate',
      at: [0, 0],
      grows: [0, -1],
      value: leg,
      dim: dim([half, 0], [half, leg], leg, 'whole length'),
      stays: 'far',
    });
    edge({
      id: 'stud-side',
      name: 'Side at the stud’s end',
      at: [topHalf, spec.topCornerRadiusMm],
      grows: [1, 0],
      value: topHalf,
      dim: dim([-topHalf, 0], [topHalf, 0], 2 * topHalf, 'width at the stud’s end'),
    });
    hole({
      id: studId,
      name: studName,
      at: [stud.acrossMm, studAlong],
      place: studPlace,
      across: [1, 0],
      along: [0, 1],
      dims: [
        dim([stud.acrossMm, 0], [stud.acrossMm, studAlong], studAlong, 'from the stud’s end'),
        ...(stud.acrossMm === 0
          ? []
          : [dim([0, studAlong], [stud.acrossMm, studAlong], Math.abs(stud.acrossMm), 'off the centre line')]),
      ],
    });
  }
  if (gusset)
    edge({
      id: 'gusset-along',
      name: 'Gusset along the base',
      at: [gusset.acrossMm, t + gusset.alongMm],
      grows: [0, 1],
      value: gusset.alongMm,
      dim: dim([gusset.acrossMm, t], [gusset.acrossMm, t + gusset.alongMm], gusset.alongMm, 'gusset along'),
    });
  spec.fixings.forEach((f, i) => {
    const at: Point2 = [f.acrossMm, end(f.fromEndMm)];
    hole({
      id: f.id,
      name: fixingName(i),
      at,
      place: { acrossMm: f.acrossMm, alongMm: f.fromEndMm },
      across: [1, 0],
      along: [0, -1],
      dims: [
        dim([at[0], leg], at, f.fromEndMm, channel ? 'from the far upright' : 'from the end'),
        ...(f.acrossMm === 0 ? [] : [dim([0, at[1]], at, Math.abs(f.acrossMm), 'from the centre line')]),
      ],
    });
  });
}
