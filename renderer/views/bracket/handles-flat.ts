import { bodyLayout, type Point2 } from '../../../core/bracket';
import { dim, fixingName, type Kit } from './handle-kit';

/** The blank, seen from the inside of its bends: across runs to the left. */
export function flatHandles(kit: Kit): void {
  const { spec, edge, hole, bent, channel, leg, up, stud, takes, half, topHalf, studId, studName, studPlace } = kit;
  const layout = bodyLayout(spec);
  // 0 is where the base leg ends; a channel's far upright lies below it
  const foot = -layout.baseEndMm;
  const long = foot + layout.lengthMm;
  if (!channel)
    edge({
      id: 'free-end',
      name: bent ? 'Free end of the base leg' : 'Free end of the plate',
      at: [0, 0],
      grows: [0, -1],
      value: leg,
      dim: dim([-half, foot], [-half, long], long - foot, 'blank'),
      stays: 'far',
    });
  edge({
    id: bent ? 'upright-top' : 'stud-end',
    name: bent ? 'Top of the upright' : 'Stud’s end of the plate',
    at: [0, long],
    grows: [0, 1],
    value: bent ? up : leg,
    dim: dim([-half, foot], [-half, long], long - foot, 'blank'),
  });
  const middle = foot + (layout.baseFlat[0] + layout.baseFlat[1]) / 2;
  edge({
    id: 'side',
    name: 'Side of the base',
    at: [half, bent ? middle : spec.baseCornerRadiusMm],
    grows: [1, 0],
    value: half,
    dim: dim([-half, middle], [half, middle], 2 * half, 'width'),
  });
  edge({
    id: 'stud-side',
    name: 'Side at the stud’s end',
    at: [topHalf, long - spec.topCornerRadiusMm],
    grows: [1, 0],
    value: topHalf,
    dim: dim([-topHalf, long], [topHalf, long], 2 * topHalf, 'top width'),
  });
  const last = layout.bends.at(-1);
  const studY = bent ? foot + (last?.endMm ?? 0) + stud.heightMm - takes : leg - stud.fromEndMm;
  hole({
    id: studId,
    name: studName,
    at: [-stud.acrossMm, studY],
    place: studPlace,
    across: [-1, 0],
    along: [0, bent ? 1 : -1],
    dims: [dim([-stud.acrossMm, long], [-stud.acrossMm, studY], long - studY, 'from the end of the blank')],
  });
  spec.fixings.forEach((f, i) => {
    const at: Point2 = [-f.acrossMm, f.fromEndMm];
    hole({
      id: f.id,
      name: fixingName(i),
      at,
      place: { acrossMm: f.acrossMm, alongMm: f.fromEndMm },
      across: [-1, 0],
      along: [0, 1],
      dims: [
        dim([at[0], 0], at, f.fromEndMm, 'from the end'),
        ...(f.acrossMm === 0 ? [] : [dim([0, at[1]], at, Math.abs(f.acrossMm), 'from the centre line')]),
      ],
    });
  });
}
