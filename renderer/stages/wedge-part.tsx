import { stlBinary } from '../../core/solid';
import { useMemo, useState } from 'react';
import type { Sheet } from '../../core/drawing';
import { LidwrightError, describeIssue } from '../../core/error';
import type { EndName } from '../../core/job';
import { type WedgeSpec, requireWedge, wedgeMassKg, wedgeMesh, wedgeUnderBracket } from '../../core/joint';
import { exportBytes } from '../state/files';
import { bench, notify } from '../state/store';
import { useCalmBench } from '../state/use-bench';
import { TypedOver0 } from '../ui/typed';
import { drawWedge, drawWedgeTemplate, exportDxf, exportPdf, exportSvg } from './drawing';

/** Draws the wedge and hands the sheet on; what can't be drawn is said. */
function draw(wedge: WedgeSpec, hand: (sheet: Sheet) => Promise<void>): void {
  try {
    void hand(drawWedge(bench.getState().resolved, wedge));
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    notify(error.message, 'bad');
  }
}

/** The wedge's drill template, 1:1. */
function drawTemplate(wedge: WedgeSpec): void {
  try {
    void exportPdf(drawWedgeTemplate(bench.getState().resolved, wedge), `${wedge.id}-template`);
  } catch (error) {
    if (!(error instanceof LidwrightError)) throw error;
    notify(error.message, 'bad');
  }
}

/** The wedge under an end that leans: its size, its solid for a printer or a mill, its drawing. */
export function WedgePart({ index, end }: { index: number; end: EndName }): React.JSX.Element | null {
  const spec = useCalmBench((s) => s.resolved.struts[index]?.ends[end]);
  const [size, setSize] = useState({ lengthMm: 50, widthMm: 40, thinMm: 3, holeMm: 8.4 });
  const angleDeg = Math.abs(spec?.tiltDeg ?? 0);
  const strutId = useCalmBench((s) => s.resolved.struts[index]?.id);
  const bracket = useCalmBench((s) => s.resolved.brackets.find((b) => b.strut === strutId && b.end === end));
  const made = useMemo(() => {
    const common = {
      id: `wedge-${end}`,
      name: `Mount wedge, ${end} end`,
      thinMm: size.thinMm,
      material: { name: 'Aluminium', densityKgM3: 2700 },
    };
    // under a bracket it is as large as the bracket's base and has its holes; else it carries a stud
    const wedge: WedgeSpec = bracket?.baseHole
      ? wedgeUnderBracket(spec?.tiltDeg ?? 0, { ...bracket, baseHole: bracket.baseHole }, common)
      : {
          ...common,
          angleDeg,
          footprint: { kind: 'rectangle', lengthMm: size.lengthMm, widthMm: size.widthMm },
          squareTo: 'face',
          holes: [{ xMm: 0, yMm: 0, diameterMm: size.holeMm }],
        };
    try {
      requireWedge(wedge);
      return { wedge, why: '' };
    } catch (error) {
      if (!(error instanceof LidwrightError)) throw error;
      return { wedge: null, why: error.issues.map(describeIssue).join(' ') };
    }
  }, [angleDeg, bracket, end, size, spec]);
  if (angleDeg < 0.05) return null;
  const { wedge } = made;
  return (
    <details className="item">
      <summary>Wedge of {angleDeg.toFixed(1)}° as a part</summary>
      {!bracket && (
        <>
          <TypedOver0
            dimension="length"
            label="Length, along the slope"
            value={size.lengthMm}
            onValue={(lengthMm) => setSize({ ...size, lengthMm })}
          />
          <TypedOver0
            dimension="length"
            label="Width"
            value={size.widthMm}
            onValue={(widthMm) => setSize({ ...size, widthMm })}
          />
        </>
      )}
      <TypedOver0
        dimension="length"
        label="Thickness at the thin end"
        value={size.thinMm}
        onValue={(thinMm) => setSize({ ...size, thinMm })}
      />
      {!bracket && (
        <TypedOver0
          dimension="length"
          label="Stud hole ⌀"
          value={size.holeMm}
          onValue={(holeMm) => setSize({ ...size, holeMm })}
        />
      )}
      {wedge ? (
        <>
          <p className="hint">Weighs {(wedgeMassKg(wedge) * 1000).toFixed(0)} g in aluminium.</p>
          <div className="row">
            <button
              type="button"
              className="strong"
              onClick={() => void exportBytes(`${wedge.id}.stl`, stlBinary(wedgeMesh(wedge)), 'model/stl')}
            >
              Export STL
            </button>
            <button type="button" onClick={() => draw(wedge, exportPdf)}>
              Drawing, PDF
            </button>
            <button type="button" onClick={() => draw(wedge, exportSvg)}>
              Drawing, SVG
            </button>
            <button type="button" onClick={() => draw(wedge, exportDxf)}>
              Drawing, DXF
            </button>
            <button type="button" onClick={() => drawTemplate(wedge)}>
              Drill template, PDF
            </button>
          </div>
        </>
      ) : (
        <p className="wrong" role="alert">
          {made.why}
        </p>
      )}
    </details>
  );
}
