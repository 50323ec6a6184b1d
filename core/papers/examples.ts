import type { Sheet } from '../drawing';
import { bracketDrawing } from './bracket-drawing';
import { guardBracket, hatchBracket, lockerBracket } from '../bracket/examples';
import { hatchWedge, studWedge } from '../joint/wedge-examples';
import { wedgeDrawing } from './wedge-drawing';

const info = {
  title: 'Engine hatch, lid bracket',
  number: 'WB-0117-03',
  creator: 'A. Keel',
  approver: 'B. Thwart',
  owner: 'Slipway Workshop',
  date: '2026-11-25',
};

/** Named drawings: golden tests, examples and preview are all made from these. */
export const sampleDrawings: Readonly<Record<string, () => Sheet>> = {
  'bracket-hatch-a4-first': () =>
    bracketDrawing(hatchBracket, { ...info, revision: 'B' }, { paper: 'A4', projection: 'first' }),
  'bracket-hatch-a3-third': () => bracketDrawing(hatchBracket, info, { paper: 'A3', projection: 'third' }),
  'bracket-guard-a3-first': () =>
    bracketDrawing(
      guardBracket,
      { ...info, title: 'Machine guard, bracket', number: 'MG-0042', notes: ['Zinc plate after bending.'] },
      { paper: 'A3', projection: 'first' },
    ),
  'bracket-locker-a4-third': () =>
    bracketDrawing(
      lockerBracket,
      { ...info, title: 'Trailer locker, bracket', number: 'TL-0309' },
      { paper: 'A4', projection: 'third' },
    ),
  'wedge-hatch-a4-first': () =>
    wedgeDrawing(
      hatchWedge,
      { ...info, title: 'Engine hatch, wedge', number: 'WB-0117-04' },
      { paper: 'A4', projection: 'first' },
    ),
  'wedge-stud-a3-third': () =>
    wedgeDrawing(
      studWedge,
      { ...info, title: 'Trailer locker, wedge washer', number: 'TL-0310' },
      { paper: 'A3', projection: 'third' },
    ),
};
