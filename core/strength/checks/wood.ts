import { type Check, lacks } from '../check';
import { ballInside, betterScrews, boltedThrough, fixingRepairs, moreFixings, spreaders } from '../repair-changes';
import type { Bolted } from '../model';
import { pitchMm } from '../shape';
import { rad } from '../../space';
import { boltTensionN } from '../holes';
import {
  GAMMA_M_WOOD,
  embedmentMPa,
  inRow,
  kModLasting,
  plateAsWasherMm,
  pulledTogether,
  screwInWood,
  steelOnWoodN,
  washerOnWoodN,
  yieldMomentNmm,
} from '../wood';
import type { PlacedHole } from '../../bracket';
import type { Unchecked } from '../types';

const ACROSS = rad(Math.PI / 2);
const WEAKER = 'The way of the grain is not in the job: the weaker way counts.';
const DISTANCES =
  'Keep the fixings 7 diameters (80 mm at least for bolts) from the end of the wood and 4 from its edge: its edges are not in the job.';

/** Least share that one of a group counts for in rows either way. */
function rowShare({ seat, bolts, fixings }: Bolted): number {
  const d = bolts.thread.diameterMm;
  const shares = ([0, 1] as const).flatMap((along) =>
    fixings.map((one) => {
      const row = fixings.filter((f) => Math.abs(f.centreMm[1 - along]! - one.centreMm[1 - along]!) < d / 2);
      return inRow(seat!.wood!.family, row.length, least(row, along), d);
    }),
  );
  return Math.min(1, ...shares);
}

function least(row: readonly PlacedHole[], along: 0 | 1): number {
  const at = row.map((f) => f.centreMm[along]).sort((a, b) => a - b);
  return Math.min(Infinity, ...at.slice(1).map((x, i) => x - at[i]!));
}

/** k_mod/γ_M of a connection in this wood, and how it is said. */
function factorOf({ seat }: Bolted): { factor: number; words: string } {
  const { serviceClass } = seat!;
  const kMod = kModLasting(serviceClass);
  return {
    factor: kMod / GAMMA_M_WOOD.connection,
    words: `k_mod ${kMod} (lasting load, service class ${serviceClass}), γ_M ${GAMMA_M_WOOD.connection}`,
  };
}

/** Wood or coach screws: pull and shear together. */
export function woodScrews(bolted: Bolted): (Check | Unchecked)[] {
  const { bolts, seat, spec, cls, fixings, forcesOf } = bolted;
  const name = 'Screws in the wood, pull and shear';
  if (!seat)
    return lacks('wood-screw', name, 'nothing is said of the wood', 'Give its thickness and what it is.', 'seat');
  if (!seat.wood)
    return lacks(
      ...(['wood-screw', name, `“${seat.name}” is in no table of woods`] as const),
      'Choose a wood for the mount, or other fixings.',
      ...['seat', 'material', 'name'],
    );
  if (!bolts.woodScrew)
    return lacks('wood-screw', name, 'no screw is short enough for this wood', 'Bolt it through.', 'attach', 'into');
  const { serviceClass } = seat;
  const typedPullN = bolts.insertPullN;
  const one = screwInWood(seat.wood, seat.thicknessMm, bolts.woodScrew, spec.thicknessMm, {
    ...{ tensileMPa: cls.tensileMPa, serviceClass, typedPullN },
  });
  const axial = one.axialN * pulledTogether(fixings.length);
  const lateral = one.lateralN * rowShare(bolted);
  const { diameterMm, lengthMm } = bolts.woodScrew;
  return [
    {
      ...{ id: 'wood-screw', name, unit: '1' },
      formula: '√((F_ax/F_ax,Rd)² + (F_v/F_v,Rd)²) ≤ 1',
      source:
        'EN 1995-1-1 8.7.3, (8.28) as a share of the load (not checked against the standard’s text); lateral (8.9), (8.10); elastic vector method; tension by the pivoting edge, plain statics',
      capacitySource: `screw ${diameterMm} × ${lengthMm} mm in ${seat.wood.id} (${seat.wood.provenance}): F_ax,Rd ${Math.round(axial)} N by ${one.axialSource}, F_v,Rd ${Math.round(lateral)} N; ${factorOf(bolted).words}`,
      notes: [
        ...(one.shallow ? [one.shallow] : []),
        WEAKER,
        'Pre-drilled holes, screwed in by hand-tight turns, never hammered.',
        DISTANCES,
      ],
      repairs: [ballInside, betterScrews, moreFixings, boltedThrough],
      places: (force) => {
        const { shearN, tensionN } = forcesOf(force);
        if (!tensionN) return [{ demand: 1, capacity: 0 }];
        return shearN.map(([x, y], i) => ({
          demand: Math.hypot(tensionN[i]! / axial, Math.hypot(x, y) / lateral),
          capacity: 1,
        }));
      },
    },
  ];
}

/** What bolts and inserts do to the wood they go through, and how near to each other fixings stand in it. */
export function inWood(bolted: Bolted): Check[] {
  const { bolts, seat, spec, cls, fixings, forcesOf } = bolted;
  const wood = seat?.wood;
  if (!wood || bolts.into === 'rivet' || bolts.into === 'tapped') return [];
  const { thicknessMm: t, spreader } = seat;
  const d = bolts.thread.diameterMm;
  const { factor, words } = factorOf(bolted);
  const provenance = `${wood.id}, ${wood.source} (${wood.provenance}); ${words}`;
  const spacing: Check = {
    ...{ id: 'wood-spacing', name: 'Fixings apart in the wood', unit: 'mm' },
    formula: '5·d ≤ distance of neighbours',
    source: 'EN 1995-1-1 tables 8.2, 8.4: a₁ along the grain, pre-drilled',
    capacitySource: 'the holes of the bracket',
    gravity: 'watch',
    notes: ['Nearer to each other they split the wood along its grain.'],
    applies: fixings.length > 1 && wood.family !== 'plywood',
    demand: () => 5 * d,
    capacity: Math.min(...fixings.map((f) => pitchMm(f, fixings))),
  };
  if (bolts.into === 'wood') return [spacing];
  const through = bolts.into === 'through';
  const washer = spreader ? plateAsWasherMm(spreader.thicknessMm, d) : 3 * d;
  const bearing = washerOnWoodN(wood.crossMPa, washer, d + 1);
  // the cone that is punched out goes by the washer's rim, or the backing plate's
  const rim = spreader ? 2 * (spreader.widthMm + spreader.lengthMm) : Math.PI * washer * fixings.length;
  const punching = wood.shearMPa * rim * t;
  const lateral =
    steelOnWoodN({
      embedmentMPa: embedmentMPa(wood.family, wood.densityKgM3.characteristic, d, ACROSS),
      yieldMomentNmm: yieldMomentNmm(cls.tensileMPa, d),
      ...{ dMm: d, depthMm: through ? t : Math.min(t, bolts.engagementMm ?? t), plateMm: spec.thicknessMm },
      axialN: through ? Math.min(bearing, boltTensionN(cls.tensileMPa, bolts.thread.stressAreaMm2)) : 0,
      ropeShare: through ? 0.25 : 0,
    }) *
    factor *
    rowShare(bolted);
  return [
    {
      ...{
        id: 'wood-lateral',
        name: through ? 'Bolts sideways in the wood' : 'Inserts sideways in the wood',
        unit: 'N',
      },
      formula: 'V ≤ n_ef/n·k_mod/γ_M·min of 0.4·f_h·t·d … 2.3·√(M_y·f_h·d) + F_ax/4',
      source:
        'EN 1995-1-1 (8.9), (8.10), (8.31), (8.34); inserts as bolts of their thread, without the rope’s share; elastic vector method',
      capacitySource: provenance,
      notes: [WEAKER, DISTANCES],
      repairs: fixingRepairs({ after: through ? [] : [boltedThrough] }),
      demand: (force) => Math.max(...forcesOf(force).shearN.map(([x, y]) => Math.hypot(x, y))),
      capacity: lateral,
    },
    {
      ...{
        id: 'wood-washer',
        name: spreader ? 'Backing plate pulled into the wood' : 'Washers pulled into the wood',
        unit: 'N',
      },
      formula: 'T ≤ k_mod/γ_M·min(3·f_c,90,k·A, f_v,k·u·t/n)',
      source: 'EN 1995-1-1 8.5.2(2), (3); punching: plain statics; washers 3 diameters wide by 10.4.3(2)',
      capacitySource: `${provenance}; ${spreader ? `plate counts as a washer of ${washer} mm under each bolt` : `washers ${washer} mm wide, ${Number((0.3 * d).toFixed(1))} mm thick`}`,
      notes: ['Small washers pull through wood: use large ones, or a backing plate.'],
      applies: through,
      repairs: fixingRepairs({ after: [spreaders] }),
      demand: (force) => Math.max(...(forcesOf(force).tensionN ?? [Infinity])),
      capacity: factor * Math.min(bearing, punching / fixings.length),
    },
    spacing,
  ];
}
