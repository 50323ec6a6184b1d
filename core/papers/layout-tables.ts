import type { Flow } from './flow';
import type { LayoutScene } from './layout-scene';
import { figure } from './report-tables';

/** The layout's coordinates and lengths as tables: pivots, struts, corners of the lid. */
export function layoutTables(scene: LayoutScene, flow: Flow, datumName: string): void {
  flow.heading(`Pivots, mm from the datum (${datumName}); X forward, Y left, Z up`);
  flow.table(
    { 'No.': 8, Pivot: 44, X: 16, Y: 16, Z: 16, 'X open': 18, 'Y open': 18, 'Z open': 18 },
    scene.pivots.map((p, i) => [
      String(i + 1),
      p.name,
      ...p.closed.map((v) => figure(v, 1)),
      ...(p.open ? p.open.map((v) => figure(v, 1)) : ['as closed', '', '']),
    ]),
  );
  const own = scene.struts.filter((s) => !s.twin);
  if (own.length > 0) {
    flow.heading('Struts, mm between pivot centres');
    flow.table(
      { Mark: 12, Strut: 50, Closed: 20, Open: 20, Compressed: 22, Extended: 22, Quantity: 16 },
      own.map((s) => [
        s.mark,
        s.name,
        figure(s.closedMm, 1),
        figure(s.openMm, 1),
        figure(s.extendedMm - s.strokeMm, 1),
        figure(s.extendedMm, 1),
        scene.struts.some((t) => t.twin && t.mark === s.mark) ? '2' : '1',
      ]),
    );
  }
  if (scene.lidClosed.length > 0) {
    flow.heading('Corners of the lid, mm from the datum');
    flow.table(
      { Corner: 20, X: 20, Y: 20, Z: 20, 'X open': 20, 'Y open': 20, 'Z open': 20 },
      scene.lidClosed.map((p, i) => [String(i + 1), ...[...p, ...scene.lidOpen[i]!].map((v) => figure(v, 1))]),
    );
  }
}
