import { LidwrightError } from '../../core/error';
import { addPhoto, checkPictureRoom, freshId, picturesBytes, sizeWords } from '../../core/job';
import { jobFromTrace, traceUnderlay } from '../../core/start';
import { preparePhoto } from '../photo/prepare';
import { type Wizard, startWizard } from '../photo/wizard';
import { type Plane, keepPhotoStill, PROJECTIONS } from './planes';
import { openMade } from './files';
import { askFit } from './session';
import { bench, edit, notify } from './store';

function say(error: unknown): void {
  if (!(error instanceof LidwrightError)) throw error;
  notify(error.message, 'bad');
}

/** Lays a picture under a view of the present job; its scale is asked for next. */
export async function layPhoto(file: File, view: Plane): Promise<void> {
  try {
    const photo = await preparePhoto(file, notify);
    const { resolved, sheet, history } = bench.getState();
    const bytes = Math.floor((photo.dataUrl.length * 3) / 4);
    checkPictureRoom(history.present, photo.name, bytes);
    const id = freshId(history.present, 'photos', view);
    const { right, up } = PROJECTIONS[view];
    const done = edit(`Lay ${photo.name} under the ${view} view`, (job) =>
      addPhoto(job, {
        photo: {
          id,
          name: photo.name,
          view,
          source: { inside: photo.dataUrl },
          widthPx: photo.widthPx,
          heightPx: photo.heightPx,
          rotationDeg: 0,
          anchorPx: [photo.widthPx / 2, photo.heightPx / 2],
          anchorMm: [Math.round(sheet.centre[right]), Math.round(sheet.centre[up])],
          opacity: 0.6,
          ...(photo.focal ? { focal: photo.focal } : {}),
        },
      }),
    );
    if (!done) return;
    bench.setState({
      stage: 'measure',
      selection: { kind: 'photo', id },
      tool: { kind: 'scale', photoId: id, from: null, to: null },
    });
    notify(
      `${photo.name} lies under the ${view} view${resolved.photos.some((p) => p.view === view) ? ', over the one that was there' : ''} (${sizeWords(bytes)}; the job’s photos are ${sizeWords(picturesBytes(bench.getState().history.present))} now). Click two marks whose distance you know.`,
    );
  } catch (error) {
    say(error);
  }
}

/** Starts tracing a lid of one's own from a side photo. */
export async function startFromPhoto(file: File): Promise<void> {
  try {
    const photo = await preparePhoto(file, notify);
    bench.setState({
      ...{ wizard: startWizard(photo), startPage: false },
      ...{ tool: null, selection: null, stage: 'measure', filled: 'side' },
    });
    askFit();
  } catch (error) {
    say(error);
  }
}

/** The next state of the tracing. The photo stays where it is seen: who has zoomed in on a mark keeps it in view. */
export function setWizard(next: Wizard): void {
  const { wizard, sheet } = bench.getState();
  bench.setState({
    wizard: next,
    ...(wizard ? { sheet: keepPhotoStill(sheet, traceUnderlay(wizard), traceUnderlay(next)) } : {}),
  });
}

/** Leaves the tracing; the job that was open is still there, the start page where there was none. */
export const leaveWizard = (): void =>
  bench.setState((s) => ({ wizard: null, filled: null, startPage: s.history.present.points.length === 0 }));

/** The last click is made: the job is whole, and opens in place of the one before it. */
export async function finishWizard(wizard: Wizard): Promise<void> {
  const job = jobFromTrace(wizard);
  if (!job || !(await openMade(job, `${wizard.photo.name}.lidjob`))) return;
  bench.setState({ filled: null, stage: 'place' });
  askFit();
  notify('The lid stands. Its width, mass and strut are assumed until you type them; drag any point to mend a click.');
}
