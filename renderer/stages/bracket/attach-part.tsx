import { clearanceHolesMm, type ThreadName } from '../../../core/bracket';
import type { JobBracket } from '../../../core/job';
import { DEFAULTS } from '../../../core/strength';
import { edit } from '../../state/store';
import { ChoiceField, Part } from '../../ui/fields';
import { NumberField } from '../../ui/number-field';
import { changeBracket, type One } from './context';
import { classOptions, ThreadField } from './stud-part';

type By = 'bolts' | 'weld' | 'both';

/** Holes for a bracket that is to be bolted and has none: two in a row, in the middle of its leg. */
const withHoles = (one: One, b: JobBracket): JobBracket =>
  b.fixings || b.baseHole
    ? b
    : {
        ...b,
        baseHole: {
          diameterMm: clearanceHolesMm[one.spec.studThread ?? 'M8'].medium,
          spacingMm: Math.round(one.spec.baseWidthMm / 2),
          fromEndMm: Math.round(one.spec.baseLegMm / 3),
        },
      };

/** Sizes of the wood screws; those that are taken where nothing is said stand as what to begin with. */
function ScrewFields({ one }: { one: One }): React.JSX.Element {
  const { raw, model, at, index } = one;
  const taken = model?.bolts?.woodScrew;
  if (!raw.attach?.screw)
    return (
      <div className="row">
        <span className="hint">
          {taken
            ? `Taken as coach screws ${taken.diameterMm} × ${taken.lengthMm} mm.`
            : 'Say what it sits on, and how thick that is.'}
        </span>
        <button
          type="button"
          onClick={() =>
            edit('Say which screws', (job) =>
              changeBracket(index, (b) => ({
                ...b,
                attach: {
                  ...(b.attach ?? { by: 'bolts' }),
                  screw: { diameterMm: taken?.diameterMm ?? 6, lengthMm: taken?.lengthMm ?? 40 },
                },
              }))(job),
            )
          }
        >
          Say which screws
        </button>
      </div>
    );
  const path = (key: string) => at('attach', 'screw', key);
  return (
    <>
      <NumberField label="Screw diameter" path={path('diameterMm')} dimension="length" />
      <NumberField label="Screw length" path={path('lengthMm')} dimension="length" />
      <NumberField
        label="Length of its thread"
        path={path('threadMm')}
        dimension="length"
        {...(taken ? { fallback: taken.threadMm } : {})}
        optional
      />
      <NumberField
        label="Root of its thread"
        path={path('rootMm')}
        dimension="length"
        {...(taken ? { fallback: Math.round(taken.rootMm * 100) / 100 } : {})}
        optional
      />
    </>
  );
}

/** What holds it to its mount. */
export function AttachPart({ one }: { one: One }): React.JSX.Element {
  const { raw, spec, model, at, index } = one;
  const by: By = spec.attachedBy;
  const usualClass = spec.into === 'wood' ? DEFAULTS.screwClass : DEFAULTS.boltClass;
  const ensure = changeBracket(index, (b) => ({ ...b, attach: b.attach ?? { by: 'bolts' } }));
  const field = (key: string) => at('attach', key);
  const thread = (name: ThreadName): void => {
    edit('Set the fixings’ thread', (job) =>
      changeBracket(index, (b) => {
        const diameterMm = clearanceHolesMm[name].medium;
        const drilled = <H extends { diameterMm: unknown }>(hole: H): H =>
          typeof hole.diameterMm === 'number' ? { ...hole, diameterMm } : hole;
        return {
          ...b,
          attach: { ...(b.attach ?? { by: 'bolts' }), thread: name },
          ...(b.baseHole ? { baseHole: drilled(b.baseHole) } : {}),
          ...(b.fixings ? { fixings: b.fixings.map(drilled) } : {}),
        };
      })(job),
    );
  };
  return (
    <Part title="Held by" folded>
      <div className="field">
        <label>
          Held by{' '}
          <span className="entry">
            <select
              name={field('by').join('.')}
              value={by}
              onChange={(e) => {
                const next = e.target.value as By;
                edit('Set what holds it', (job) =>
                  changeBracket(index, (b) => {
                    const held: JobBracket = { ...b, attach: { ...b.attach, by: next } };
                    return next === 'weld' ? held : withHoles(one, held);
                  })(job),
                );
              }}
            >
              <option value="bolts">bolts</option>
              <option value="weld">weld</option>
              <option value="both">both</option>
            </select>
          </span>
        </label>
      </div>
      {by !== 'weld' && (
        <>
          <ChoiceField
            label="Bolts go"
            path={field('into')}
            fallback="through"
            ensure={ensure}
            options={[
              ['through', 'through, nut'],
              ['tapped', 'in a tapped hole'],
              ['insert', 'in a rivet nut or insert'],
              ['wood', 'in wood, as screws'],
              ['rivet', 'in as blind rivets'],
            ]}
          />
          {spec.into !== 'wood' && (
            <ThreadField
              label="Bolt thread"
              name={field('thread').join('.')}
              value={spec.fixingThread}
              typed={raw.attach?.thread !== undefined}
              onChange={thread}
            />
          )}
          <ChoiceField
            label={spec.into === 'wood' ? 'Screw class' : 'Bolt class'}
            path={field('propertyClass')}
            options={classOptions(raw.attach?.propertyClass, usualClass)}
            fallback={usualClass}
            ensure={ensure}
          />
          {(spec.into === 'tapped' || spec.into === 'insert') && (
            <NumberField
              label="Thread that carries"
              path={field('engagementMm')}
              dimension="length"
              {...(model?.bolts?.engagementMm ? { fallback: model.bolts.engagementMm } : {})}
              ensure={ensure}
              optional
            />
          )}
          {spec.into === 'wood' && <ScrewFields one={one} />}
          {spec.into === 'rivet' && (
            <NumberField
              label="Shear force, maker’s"
              path={field('rivetShearN')}
              dimension="force"
              ensure={ensure}
              optional
            />
          )}
          {['insert', 'wood', 'rivet'].includes(spec.into) && (
            <NumberField
              label={spec.into === 'wood' ? 'Pull-out force, if tested' : 'Pull-out force, maker’s'}
              path={field('insertPullN')}
              dimension="force"
              ensure={ensure}
              optional
            />
          )}
          {by === 'bolts' && (
            <>
              <NumberField
                label="Preload, each"
                path={field('preloadN')}
                dimension="force"
                {...(model?.bolts ? { fallback: Math.round(model.bolts.preloadN) } : {})}
                ensure={ensure}
                optional
              />
              <NumberField
                label="Friction, faces"
                path={field('friction')}
                dimension="number"
                fallback={DEFAULTS.friction}
                ensure={ensure}
                optional
              />
            </>
          )}
        </>
      )}
      {by !== 'bolts' && (
        <>
          <NumberField
            label="Weld throat"
            path={field('weldThroatMm')}
            dimension="length"
            {...(model?.weld ? { fallback: Math.round(model.weld.throatMm * 100) / 100 } : {})}
            ensure={ensure}
            optional
          />
          <ChoiceField
            label="Weld runs along"
            path={field('weldEdges')}
            fallback="all"
            ensure={ensure}
            options={[
              ['all', 'all edges'],
              ['sides', 'the two sides'],
              ['ends', 'the two ends'],
            ]}
          />
        </>
      )}
      {by === 'both' && <p className="hint">The weld is stiffer and counts for all of it, the bolts for none.</p>}
    </Part>
  );
}
