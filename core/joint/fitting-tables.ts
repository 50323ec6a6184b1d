// Sizes of ball joints and fork heads after DIN 71802, 71803, 71805 and 71752, from dealers' tables, not checked against
// the standards' text. Data only.

const M = (diameterMm: number, pitchMm: number, fine = false) => ({
  name: fine ? `M${diameterMm}×${pitchMm}` : `M${diameterMm}`,
  diameterMm,
  pitchMm,
});

export const LISTED = {
  provenance: 'from dealers’ tables',
  source: 'DIN 71802, 71803, 71805, not checked against their text',
  forkSource: 'DIN 71752, not checked against its text',
} as const;

/**
 * DIN 71802 = socket DIN 71805 + ball stud DIN 71803. mm, N. `shoulderMm` holds what the listings say where they differ.
 * Ball sizes with the thread named first in the listings.
 */
export const ANGLED_BALL_SIZES = [
  {
    ballMm: 8,
    thread: M(5, 0.8),
    studThreadMm: 10,
    shoulderMm: [9, 8.5],
    shankEndMm: 22,
    depthMm: 10.5,
    flatsMm: 7,
    shankMm: 8,
    headMm: 12.8,
    separatingN: 30,
  },
  {
    ballMm: 10,
    thread: M(6, 1),
    studThreadMm: 12.5,
    shoulderMm: [11, 10.5],
    shankEndMm: 25,
    depthMm: 11.5,
    flatsMm: 8,
    shankMm: 10,
    headMm: 14.8,
    separatingN: 40,
  },
  {
    ballMm: 13,
    thread: M(8, 1.25),
    studThreadMm: 16.5,
    shoulderMm: [13, 12],
    shankEndMm: 30,
    depthMm: 14,
    flatsMm: 11,
    shankMm: 13,
    headMm: 19.3,
    separatingN: 60,
  },
  {
    ballMm: 16,
    thread: M(10, 1.5),
    studThreadMm: 20,
    shoulderMm: [16, 15],
    shankEndMm: 35,
    depthMm: 15.5,
    flatsMm: 13,
    shankMm: 16,
    headMm: 24,
    separatingN: 80,
  },
  {
    ballMm: 19,
    thread: M(14, 1.5, true),
    studThreadMm: 28,
    shoulderMm: [20, 19.5],
    shankEndMm: 45,
    depthMm: 21.5,
    flatsMm: 16,
    shankMm: 22,
    headMm: 30,
    separatingN: 100,
  },
] as const;

/** DIN 71752 fork heads (UNI 1676 is the same): short and long. mm. Column meanings past pin, slot, thread, widths are a reading. */
export const FORK_SIZES = [
  {
    pinMm: 4,
    slotMm: [8, 16],
    thread: M(4, 0.7),
    widthMm: 8,
    gapMm: 4,
    shankMm: 8,
    holeToEndMm: [16, 24],
    overallMm: [21, 29],
    depthMm: 6,
  },
  {
    pinMm: 5,
    slotMm: [10, 20],
    thread: M(5, 0.8),
    widthMm: 10,
    gapMm: 5,
    shankMm: 9,
    holeToEndMm: [20, 30],
    overallMm: [26, 36],
    depthMm: 7.5,
  },
  {
    pinMm: 6,
    slotMm: [12, 24],
    thread: M(6, 1),
    widthMm: 12,
    gapMm: 6,
    shankMm: 10,
    holeToEndMm: [24, 36],
    overallMm: [31, 43],
    depthMm: 9,
  },
  {
    pinMm: 8,
    slotMm: [16, 32],
    thread: M(8, 1.25),
    widthMm: 16,
    gapMm: 8,
    shankMm: 14,
    holeToEndMm: [32, 48],
    overallMm: [42, 58],
    depthMm: 12,
  },
  {
    pinMm: 10,
    slotMm: [20, 40],
    thread: M(10, 1.5),
    widthMm: 20,
    gapMm: 10,
    shankMm: 18,
    holeToEndMm: [40, 60],
    overallMm: [52, 72],
    depthMm: 15,
  },
  {
    pinMm: 12,
    slotMm: [24, 48],
    thread: M(12, 1.75),
    widthMm: 24,
    gapMm: 12,
    shankMm: 20,
    holeToEndMm: [48, 72],
    overallMm: [62, 86],
    depthMm: 18,
  },
] as const;
