import { dim, type Kit } from './handle-kit';

/** From the front: the upright with its stud. */
export function frontHandles(kit: Kit): void {
  const { spec, edge, hole, bent, t, up, stud, gusset, takes, half, topHalf, studId, studName, studPlace } = kit;
  if (bent) {
    edge({
      id: 'upright-top',
      name: 'Top of the upright',
      at: [0, up],
      grows: [0, 1],
      value: up,
      dim: dim([-Math.max(half, topHalf), 0], [-Math.max(half, topHalf), up], up, 'upright'),
    });
    edge({
      id: 'stud-side',
      name: 'Side at the top',
      at: [topHalf, up - spec.topCornerRadiusMm],
      grows: [1, 0],
      value: topHalf,
      dim: dim([-topHalf, up], [topHalf, up], 2 * topHalf, 'top width'),
    });
    hole({
      id: studId,
      name: studName,
      at: [stud.acrossMm, stud.heightMm],
      place: studPlace,
      across: [1, 0],
      along: [0, 1],
      dims: [
        dim([stud.acrossMm, 0], [stud.acrossMm, stud.heightMm], stud.heightMm, 'over the mount'),
        ...(stud.acrossMm === 0
          ? []
          : [dim([0, stud.heightMm], [stud.acrossMm, stud.heightMm], Math.abs(stud.acrossMm), 'off the centre line')]),
      ],
    });
  } else
    hole({
      id: studId,
      name: studName,
      at: [stud.acrossMm, t / 2],
      place: studPlace,
      across: [1, 0],
      along: [0, 0],
      dims: [dim([0, t / 2], [stud.acrossMm, t / 2], Math.abs(stud.acrossMm), 'off the centre line')],
    });
  edge({
    id: 'side',
    name: 'Side of the base',
    at: [half, bent ? takes / 2 : t / 2],
    grows: [1, 0],
    value: half,
    dim: dim([-half, 0], [half, 0], 2 * half, 'width'),
  });
  if (gusset)
    edge({
      id: 'gusset-up',
      name: 'Gusset up the upright',
      at: [gusset.acrossMm, t + gusset.upMm],
      grows: [0, 1],
      value: gusset.upMm,
      dim: dim([gusset.acrossMm, t], [gusset.acrossMm, t + gusset.upMm], gusset.upMm, 'gusset up'),
    });
}
