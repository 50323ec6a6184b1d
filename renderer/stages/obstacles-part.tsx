import { type NewObstacle, addObstacle, removeObstacle } from '../../core/clearance';
import { setValue } from '../../core/job';
import { bench, edit } from '../state/store';
import { useMade } from '../state/use-bench';
import { ChoiceField, Part, TextField } from '../ui/fields';
import { NumberField } from '../ui/number-field';

function Triple({
  label,
  path,
  dimension,
  axes = ['X', 'Y', 'Z'],
}: {
  label: string;
  path: (string | number)[];
  dimension: 'length' | 'angle';
  axes?: readonly string[];
}): React.JSX.Element {
  return (
    <fieldset className="point">
      <legend>{label}</legend>
      {axes.map((axis, k) => (
        <NumberField key={axis} compact label={axis} path={[...path, k]} dimension={dimension} fallback={0} />
      ))}
    </fieldset>
  );
}

/** New obstacles stand in the middle of what the views show, where they can be seen and moved. */
function fresh(kind: 'box' | 'cylinder' | 'traced'): NewObstacle {
  const [x, y, z] = bench.getState().sheet.centre.map((v) => Math.round(v)) as [number, number, number];
  if (kind === 'box') return { name: 'Box', on: 'base', box: { centre: [x, y, z], sizeMm: [100, 100, 100] } };
  if (kind === 'cylinder')
    return { name: 'Pipe', on: 'base', cylinder: { from: [x, y - 100, z], to: [x, y + 100, z], radiusMm: 20 } };
  return {
    name: 'Traced outline',
    on: 'base',
    traced: {
      view: 'side',
      corners: [
        [x - 60, z - 60],
        [x + 60, z - 60],
        [x + 60, z + 60],
        [x - 60, z + 60],
      ],
      depthMm: [y - 50, y + 50],
    },
  };
}

/** How the panel lies about its outline, and which loads take room: what must clear base and walls as the lid opens. */
function LidBody(): React.JSX.Element {
  const masses = useMade((s) =>
    s.resolved.masses.map(({ id, name, body, at }) => ({
      ...{ id, name: name ?? id, shape: body?.box ? 'box' : body?.cylinder ? 'cylinder' : null },
      at: s.resolved.points.find((p) => p.id === at)!.at,
    })),
  );
  const thickness = useMade((s) => s.resolved.panel?.thicknessMm ?? 0);
  const put = (i: number, name: string, body: object | undefined): void =>
    void edit(body ? `Give ${name} a body` : `Take the body of ${name} away`, (job) =>
      setValue(job, { path: ['masses', i, 'body'], value: body }),
    );
  return (
    <>
      <p className="hint">
        The lid and what lies on it must clear what stands on the base too. Say how far its panel reaches over and under
        its outline, and how large its loads are.
      </p>
      <NumberField
        label="Panel over its outline"
        path={['panel', 'upMm']}
        dimension="length"
        fallback={thickness / 2}
      />
      <NumberField
        label="Panel under its outline"
        path={['panel', 'downMm']}
        dimension="length"
        fallback={thickness / 2}
      />
      {masses.map(({ id, name, shape, at: [x, y, z] }, i) => (
        <details key={id} className="item">
          <summary>
            {name}: {shape ?? 'takes no room'}
          </summary>
          {shape === 'box' && (
            <>
              <Triple label="Middle" path={['masses', i, 'body', 'box', 'centre']} dimension="length" />
              <Triple label="Size" path={['masses', i, 'body', 'box', 'sizeMm']} dimension="length" />
            </>
          )}
          {shape === 'cylinder' && (
            <>
              <Triple label="From" path={['masses', i, 'body', 'cylinder', 'from']} dimension="length" />
              <Triple label="To" path={['masses', i, 'body', 'cylinder', 'to']} dimension="length" />
              <NumberField label="Radius" path={['masses', i, 'body', 'cylinder', 'radiusMm']} dimension="length" />
            </>
          )}
          <div className="row">
            {shape === null ? (
              <>
                <button
                  type="button"
                  onClick={() => put(i, name, { box: { centre: [x, y, z], sizeMm: [200, 200, 200] } })}
                >
                  A box
                </button>
                <button
                  type="button"
                  onClick={() =>
                    put(i, name, { cylinder: { from: [x, y - 200, z], to: [x, y + 200, z], radiusMm: 100 } })
                  }
                >
                  A cylinder
                </button>
              </>
            ) : (
              <button type="button" onClick={() => put(i, name, undefined)}>
                Takes no room
              </button>
            )}
          </div>
        </details>
      ))}
    </>
  );
}

/** Things the strut must not touch on its way. */
export function ObstaclesPart(): React.JSX.Element {
  const obstacles = useMade((s) =>
    (s.history.present.obstacles ?? []).map(({ id, name, box, cylinder, traced }) => ({
      ...{ id, name },
      shape: box ? 'box' : cylinder ? 'cylinder' : 'traced',
      turned: box?.rotationDeg !== undefined,
      corners: traced?.corners.length ?? 0,
    })),
  );
  return (
    <Part title="In the way" folded={obstacles.length === 0}>
      <p className="hint">
        Boxes, pipes and traced outlines that strut, joints and lid must clear over the whole travel.
      </p>
      {obstacles.map((o, i) => (
        <details key={o.id} className="item">
          <summary>{o.name ?? o.id}</summary>
          <TextField label="Name" path={['obstacles', i, 'name']} />
          <ChoiceField
            label="Rides on"
            path={['obstacles', i, 'on']}
            options={[
              ['base', 'the base'],
              ['lid', 'the lid'],
            ]}
          />
          {o.shape === 'box' && (
            <>
              <Triple label="Middle" path={['obstacles', i, 'box', 'centre']} dimension="length" />
              <Triple label="Size" path={['obstacles', i, 'box', 'sizeMm']} dimension="length" />
              {o.turned ? (
                <Triple label="Rotation about" path={['obstacles', i, 'box', 'rotationDeg']} dimension="angle" />
              ) : (
                <button
                  type="button"
                  onClick={() =>
                    edit('Turn the box', (job) => ({
                      ...job,
                      obstacles: job.obstacles!.map((x, k) =>
                        k === i && x.box ? { ...x, box: { ...x.box, rotationDeg: [0, 0, 0] as const } } : x,
                      ),
                    }))
                  }
                >
                  Turn it
                </button>
              )}
            </>
          )}
          {o.shape === 'cylinder' && (
            <>
              <Triple label="From" path={['obstacles', i, 'cylinder', 'from']} dimension="length" />
              <Triple label="To" path={['obstacles', i, 'cylinder', 'to']} dimension="length" />
              <NumberField label="Radius" path={['obstacles', i, 'cylinder', 'radiusMm']} dimension="length" />
            </>
          )}
          {o.shape === 'traced' && (
            <>
              <ChoiceField
                label="Traced in"
                path={['obstacles', i, 'traced', 'view']}
                options={[
                  ['side', 'the side view'],
                  ['top', 'the top view'],
                  ['front', 'the view from behind'],
                ]}
              />
              {Array.from({ length: o.corners }, (_, k) => (
                <Triple
                  key={k}
                  label={`Corner ${k + 1}`}
                  path={['obstacles', i, 'traced', 'corners', k]}
                  dimension="length"
                  axes={['→', '↑']}
                />
              ))}
              <Triple
                label="Depth"
                path={['obstacles', i, 'traced', 'depthMm']}
                dimension="length"
                axes={['from', 'to']}
              />
            </>
          )}
          <button
            type="button"
            onClick={() => edit(`Remove ${o.name ?? o.id}`, (job) => removeObstacle(job, { id: o.id }))}
          >
            Remove
          </button>
        </details>
      ))}
      <div className="row">
        {(['box', 'cylinder', 'traced'] as const).map((kind) => (
          <button
            key={kind}
            type="button"
            onClick={() => edit('Add an obstacle', (job) => addObstacle(job, { obstacle: fresh(kind) }))}
          >
            {kind === 'box' ? 'Add a box' : kind === 'cylinder' ? 'Add a pipe' : 'Add an outline'}
          </button>
        ))}
      </div>
      <NumberField label="Gap wanted" path={['limits', 'clearanceMm']} dimension="length" fallback={3} />
      <NumberField label="Lid panel thickness" path={['panel', 'thicknessMm']} dimension="length" fallback={0} />
      <LidBody />
    </Part>
  );
}
