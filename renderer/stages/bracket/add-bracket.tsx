import { firstBracket, readyPlate, setBracketKind, suitingKind } from '../../../core/bracket';
import { addBracket, type EndName, freshId, resolveJob, setValue } from '../../../core/job';
import { chooseBracket, showBracket } from '../../state/bracket-store';
import { edit, presentJob } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { giveMount } from '../../state/mount-tool';

/** A bracket to begin with at an end, by its strut and its fitting; the end gets a mount where it has none and the person asks for it. */
function addOne(strutId: string, end: EndName, mount: boolean, ready = false): void {
  const id = freshId(presentJob(), 'brackets', 'b1');
  const added = edit('Add a bracket', (job) => {
    const strut = resolveJob(job).struts.find((s) => s.id === strutId)!;
    if (ready) {
      const added = addBracket(job, { bracket: readyPlate(strut, end, id, `Plate with ball, ${end}`) });
      // its ball stands square on the mount
      const at = ['struts', job.struts.findIndex((s) => s.id === strutId), 'ends', end];
      const { stem: _stem, ...rest } = added.struts[at[1] as number]!.ends[end];
      return mount
        ? added
        : setValue(added, { path: at, value: { ...rest, azimuthDeg: rest.azimuthDeg ?? 0, tiltDeg: 90 } });
    }
    const bracket = firstBracket(strut, end, id, end === 'base' ? 'Base bracket' : 'Lid bracket');
    return setBracketKind(addBracket(job, { bracket }), { id, kind: suitingKind(strut, end) });
  });
  if (!added) return;
  chooseBracket(id);
  showBracket(true);
  if (mount) giveMount(strutId, end);
}

/** A button for each end of a strut that no bracket holds yet. */
export function AddBracket(): React.JSX.Element {
  const brackets = useBench((s) => s.history.present.brackets) ?? [];
  const struts = useBench((s) => s.history.present.struts);
  const open = struts.flatMap((s, i) =>
    (['base', 'lid'] as const)
      .filter((end) => !brackets.some((b) => b.strut === s.id && b.end === end))
      .map((end) => ({ strut: s, end, of: struts.length > 1 ? ` of strut ${i + 1}` : '' })),
  );
  if (open.length === 0) return <></>;
  return (
    <div className="add-bracket">
      {open.map(({ strut, end, of }) => {
        const bare = strut.ends[end].mount === undefined;
        return (
          <div className="row" key={`${strut.id} ${end}`}>
            <button type="button" onClick={() => addOne(strut.id, end, bare)}>
              Add one at the {end} end{of}
            </button>
            <button
              type="button"
              title="Bought: a flat plate with the ball square on it. Measure yours and type over the sizes."
              onClick={() => addOne(strut.id, end, bare, true)}
            >
              Ready-made plate there
            </button>
            {bare && (
              <span className="hint">
                That end stands on no mount: it gets one, on the surface under its ball where there is one, else flat
                under the stud. Another is clicked in Joints.
              </span>
            )}
          </div>
        );
      })}
    </div>
  );
}
