import { describe, expect, it } from 'vitest';
import { type BracketSpec, checkBracket, requireMakeable } from '../../../core/bracket';
import {
  channelBracket,
  gussetBracket,
  hatchBracket,
  sampleBrackets,
  tabBracket,
  wedgeBracket,
} from '../../../core/bracket/examples';

type Fix = BracketSpec['fixings'][number];
const fix = (acrossMm: number, fromEndMm: number, more: Partial<Fix> = {}): Fix => ({
  ...{ id: `${acrossMm}/${fromEndMm}`, acrossMm, fromEndMm, diameterMm: 9, slotMm: 0, slotDeg: 0 },
  ...more,
});
const free = { patterned: false, fixingThread: 'M8' } as const;
const steel = { name: 'Steel S235JR', densityKgM3: 7850 };
const gusset = gussetBracket.gusset!;

describe('checkBracket, kind by kind', () => {
  it('lets every sample be made', () => {
    for (const spec of sampleBrackets) expect(() => requireMakeable(spec)).not.toThrow();
  });

  const cases: [string, BracketSpec, 'fails' | 'watch', string, string][] = [
    [
      'a slot over the side',
      { ...hatchBracket, ...free, fixings: [fix(28, 15, { slotMm: 12, slotDeg: 90 })] },
      'fails',
      'fixing-edge',
      'fixings.0.fromEndMm',
    ],
    [
      'a slot into the bend',
      { ...hatchBracket, ...free, fixings: [fix(0, 33, { slotMm: 16 })] },
      'fails',
      'fixing-bend',
      'fixings.0.fromEndMm',
    ],
    [
      'two slots that cross',
      {
        ...hatchBracket,
        ...free,
        fixings: [fix(-6, 20, { slotMm: 20, slotDeg: 90 }), fix(-6, 20.5, { slotMm: 20, slotDeg: 20 })],
      },
      'fails',
      'holes-meet',
      'fixings.0.fromEndMm',
    ],
    [
      'holes close together',
      { ...hatchBracket, ...free, fixings: [fix(-8.5, 15), fix(8.5, 15)] },
      'watch',
      'holes-close',
      'fixings.0.fromEndMm',
    ],
    [
      'heads into each other',
      { ...hatchBracket, ...free, fixings: [fix(-6, 15), fix(6, 15)] },
      'fails',
      'heads-meet',
      'fixings.0.acrossMm',
    ],
    [
      'a head into the upright',
      { ...hatchBracket, ...free, insideRadiusMm: 2, fixings: [fix(0, 41.5)] },
      'fails',
      'head-upright',
      'fixings.0.fromEndMm',
    ],
    [
      'a washer on the bend',
      { ...hatchBracket, ...free, fixings: [fix(0, 36)] },
      'watch',
      'washer-bend',
      'fixings.0.fromEndMm',
    ],
    [
      'no room for a spanner',
      { ...hatchBracket, ...free, insideRadiusMm: 2, fixings: [fix(0, 37.5)] },
      'watch',
      'spanner-room',
      'fixings.0.fromEndMm',
    ],
    [
      'a screw too thick for its hole',
      { ...hatchBracket, fixingThread: 'M10' },
      'fails',
      'fixing-thread',
      'baseHole.diameterMm',
    ],
    ['no holes though bolted', { ...hatchBracket, fixings: [] }, 'fails', 'fixings-none', 'baseHole'],
    [
      'seven fixings',
      { ...hatchBracket, ...free, fixings: Array.from({ length: 7 }, (_, i) => fix(i, 9)) },
      'fails',
      'fixings-many',
      'fixings',
    ],
    [
      'steel bent too tight',
      { ...hatchBracket, material: steel, insideRadiusMm: 4.5 },
      'watch',
      'bend-crack',
      'insideRadiusMm',
    ],
    [
      'steel that bends across the rolling direction only',
      { ...hatchBracket, material: steel, insideRadiusMm: 5 },
      'watch',
      'bend-rolling',
      'insideRadiusMm',
    ],
    [
      'a leg too short for the die',
      { ...hatchBracket, ...free, baseLegMm: 22, fixings: [fix(0, 8, { diameterMm: 4 })], fixingThread: null },
      'watch',
      'leg-short',
      'baseLegMm',
    ],
    [
      'the ball in the base',
      { ...hatchBracket, ballSide: 'inside', studHole: { ...hatchBracket.studHole, heightMm: 16 } },
      'fails',
      'ball-base',
      'studHole.heightMm',
    ],
    [
      'the ball on a screw',
      {
        ...hatchBracket,
        ...free,
        ballSide: 'inside',
        fixings: [fix(0, 30)],
        studHole: { ...hatchBracket.studHole, heightMm: 22 },
      },
      'fails',
      'ball-fixing',
      'fixings.0.acrossMm',
    ],
    [
      'the socket against the upright',
      { ...hatchBracket, ballSide: 'inside', ballOffsetMm: 9 },
      'watch',
      'ball-face',
      'ballOffsetMm',
    ],
    ['bends that meet', { ...channelBracket, gapMm: 9, baseLegMm: 17 }, 'fails', 'gap-in-bend', 'gapMm'],
    ['a deep channel', channelBracket, 'watch', 'channel-deep', 'uprightLegMm'],
    [
      'a gap narrower than the joint',
      { ...channelBracket, gapMm: 24, baseLegMm: 32, ballOffsetMm: 12 },
      'watch',
      'joint-gap',
      'gapMm',
    ],
    [
      'a screw under the joint',
      { ...channelBracket, ...free, fixings: [fix(0, 19)], studHole: { ...channelBracket.studHole, heightMm: 25 } },
      'fails',
      'ball-fixing',
      'fixings.0.acrossMm',
    ],
    [
      'a gusset before the stud',
      { ...gussetBracket, ballSide: 'outside', gusset: { ...gusset, count: 1, acrossMm: 0, upMm: 58, alongMm: 30 } },
      'fails',
      'gusset-stud',
      'gusset.upMm',
    ],
    [
      'a gusset before the nut',
      { ...gussetBracket, ballSide: 'outside', gusset: { ...gusset, count: 1, acrossMm: 0, upMm: 46, alongMm: 30 } },
      'fails',
      'gusset-nut',
      'gusset.upMm',
    ],
    [
      'a gusset on a screw',
      { ...gussetBracket, gusset: { ...gusset, acrossMm: 28, alongMm: 55 } },
      'fails',
      'gusset-fixing',
      'fixings.0.acrossMm',
    ],
    [
      'a gusset over the side',
      { ...gussetBracket, gusset: { ...gusset, acrossMm: 47 } },
      'fails',
      'gusset-side',
      'gusset.acrossMm',
    ],
    [
      'a gusset past the base',
      { ...gussetBracket, gusset: { ...gusset, alongMm: 74 } },
      'fails',
      'gusset-over',
      'gusset.alongMm',
    ],
    [
      'a gusset within the radius',
      { ...gussetBracket, gusset: { ...gusset, upMm: 6 } },
      'fails',
      'gusset-small',
      'gusset.upMm',
    ],
    [
      'the ball in a gusset',
      { ...gussetBracket, gusset: { ...gusset, acrossMm: 11, upMm: 70, alongMm: 45 } },
      'fails',
      'ball-gusset',
      'gusset',
    ],
    ['a tab too thin for a thread', tabBracket, 'watch', 'tab-nut', 'thicknessMm'],
    [
      'a stud off the tab',
      { ...tabBracket, studHole: { ...tabBracket.studHole, fromEndMm: 3 } },
      'fails',
      'studHole-edge',
      'studHole.fromEndMm',
    ],
    [
      'tab corners that meet along its side',
      { ...tabBracket, baseLegMm: 45, topCornerRadiusMm: 22, baseCornerRadiusMm: 24, topWidthMm: 49 },
      'fails',
      'top-corner',
      'topCornerRadiusMm',
    ],
    [
      'a wedge too steep',
      { ...wedgeBracket, wedge: { tiltDeg: 50, directionDeg: 0 } },
      'fails',
      'wedge-steep',
      'wedge.tiltDeg',
    ],
    ['a feather edge', { ...wedgeBracket, thicknessMm: 1 }, 'watch', 'wedge-thin', 'thicknessMm'],
    ['heads askew on a wedge', wedgeBracket, 'watch', 'wedge-face', 'wedge.tiltDeg'],
    ['a wedge with its ball below', { ...wedgeBracket, ballSide: 'inside' }, 'fails', 'ball-inside', 'ballSide'],
    [
      'a leaning hole into a fixing',
      { ...wedgeBracket, ...free, wedge: { tiltDeg: 40, directionDeg: 0 }, fixings: [fix(0, 40)] },
      'fails',
      'holes-meet',
      'fixings.0.fromEndMm',
    ],
  ];
  it.each(cases)('%s', (_name, spec, severity, id, where) => {
    const found = checkBracket(spec).map((issue) => `${issue.severity} ${issue.id} ${issue.where.join('.')}`);
    expect(found).toContain(`${severity} ${id} ${where}`);
    const issue = checkBracket(spec).find((one) => one.id === id)!;
    expect(issue.advice).toMatch(/\w{3}/);
    expect(issue.what).not.toMatch(/NaN|undefined|Infinity/);
  });

  it('says the worst of a pattern’s holes, not the first', () => {
    const spec = { ...hatchBracket, fixings: [fix(-10, 10.2), fix(33, 15)] };
    const edge = checkBracket(spec).filter((issue) => issue.id === 'fixing-edge');
    expect(edge.map((issue) => issue.severity)).toEqual(['fails']);
  });
});
