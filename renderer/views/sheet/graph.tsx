import { Fragment, memo } from 'react';
import { Layer } from 'react-konva/lib/ReactKonvaCore';
import { relationStore } from '../../state/relations';
import type { BenchState } from '../../state/store';
import { useBench } from '../../state/use-bench';
import { useStore } from 'zustand';
import { ConditionMark } from './conditions';
import { DragMarks, NameTags, ScaleBar } from './drag-marks';
import { Handle, Paper, StemHandle } from './grips';
import { handlesOf } from './handles';
import { LidBodies, Corner, Grip, Hinge, Mass, Obstacle, Outline, SweptTrace } from './lid';
import { Photo, TracedPhoto, Tracing } from './photos';
import { ReadingMark, SurveyMarks } from './readings';
import { JointSector, MountMark, PullArrow, StrutMark, StrutSweep, StrutWay } from './struts';
import { useView } from './view';
import { useZoneTool } from '../../state/zone-tool';
import { PlaceGhosts, WorksMapMark, Zone, ZoneDrawing } from './places';
import { PullReadings, RestStand, Together, WeighedPlace } from './weighed';

// What is on a drawn view, from the bottom to the top. React decides which things there are; where they stand, and what of
// them is chosen or out of range, they take from what is shown at every pass.

const ENDS = ['base', 'lid'] as const;
const STEM_PARTS = ['azimuth', 'tilt'] as const;

/** Ids out of the state, the same array while they are the same. */
function useIds(pick: (state: BenchState) => readonly string[]): readonly string[] {
  const joined = useBench((s) => JSON.stringify(pick(s)));
  return JSON.parse(joined) as string[];
}

const idsOf = (list: readonly { readonly id: string }[]): readonly string[] => list.map((x) => x.id);

const Photos = memo(() => {
  const { plane } = useView();
  const ids = useIds((s) => idsOf(s.resolved.photos.filter((p) => p.view === plane)));
  return ids.map((id) => <Photo key={id} id={id} />);
});

const Lid = memo(() => {
  const traced = useIds((s) => [...new Set([...s.resolved.outline, s.resolved.grip])]);
  const obstacles = useIds((s) => idsOf(s.resolved.obstacles));
  const zones = useIds((s) => idsOf(s.resolved.zones));
  const stage = useBench((s) => s.stage);
  return (
    <>
      {traced.map((id) => (
        <SweptTrace key={id} id={id} />
      ))}
      {stage === 'place' && <WorksMapMark />}
      {stage === 'place' && zones.map((id) => <Zone key={id} id={id} />)}
      {obstacles.map((id) => (
        <Obstacle key={id} id={id} />
      ))}
      <LidBodies />
      <Outline />
      <Hinge />
    </>
  );
});

const Readings = memo(() => {
  const readings = useIds((s) => idsOf(s.resolved.observations));
  return (
    <>
      {readings.map((id) => (
        <ReadingMark key={id} id={id} />
      ))}
      <SurveyMarks />
    </>
  );
});

const Struts = memo(() => {
  const struts = useIds((s) => idsOf(s.resolved.struts));
  const stage = useBench((s) => s.stage);
  const swept = useBench((s) => s.stage === 'joints' || s.resolved.obstacles.length > 0);
  return struts.map((id) => (
    <Fragment key={id}>
      {swept && <StrutSweep id={id} />}
      {(stage === 'joints' || stage === 'bracket') && ENDS.map((end) => <MountMark key={end} strut={id} end={end} />)}
      <StrutMark id={id} />
      {ENDS.map((end) => (
        <JointSector key={end} strut={id} end={end} />
      ))}
    </Fragment>
  ));
});

/** In Measure and Place, and in a drag; the chosen one last, over the others. */
const Conditions = memo(() => {
  const shown = useBench((s) => s.stage === 'measure' || s.stage === 'place' || s.drag !== null);
  const chosen = useStore(relationStore, (s) => s.chosen);
  const ids = useIds((s) => idsOf(s.resolved.relations));
  if (!shown) return null;
  const last = (id: string): number => Number(id === chosen);
  return [...ids].sort((a, b) => last(a) - last(b)).map((id) => <ConditionMark key={id} id={id} />);
});

const Weighed = memo(() => {
  const rests = useIds((s) => [...new Set((s.resolved.weighings?.lifted?.readings ?? []).flatMap((r) => r.between))]);
  return (
    <>
      <Together />
      <PullReadings />
      {rests.map((id) => (
        <RestStand key={id} id={id} />
      ))}
      <WeighedPlace by="pulls" />
      <WeighedPlace by="lifted" />
    </>
  );
});

const Scene = memo(() => {
  const stage = useBench((s) => s.stage);
  const corners = useIds((s) => s.resolved.outline);
  const masses = useIds((s) => idsOf(s.resolved.masses));
  const struts = useIds((s) => idsOf(s.resolved.struts));
  const grip = useBench((s) => s.resolved.grip);
  return (
    <>
      {struts.map((id) => (
        <StrutWay key={id} id={id} />
      ))}
      {stage === 'measure' && <Readings />}
      {corners.map((id) => (
        <Corner key={id} id={id} />
      ))}
      <Struts />
      {masses.map((id) => (
        <Mass key={id} id={id} />
      ))}
      <Grip id={grip} />
      <Conditions />
      {stage === 'weigh' && <Weighed />}
      {stage === 'strut' &&
        struts.flatMap((id) => ENDS.map((end) => <PullArrow key={`${id} ${end}`} strut={id} end={end} />))}
      {stage === 'place' && <PlaceGhosts />}
      <ZoneDrawing />
      <DragMarks />
      <NameTags />
    </>
  );
});

const Handles = memo(() => {
  const resolved = useBench((s) => JSON.stringify(handlesOf(s.resolved, s.stage)));
  // the first of those that count alike lies on top
  const handles = (JSON.parse(resolved) as ReturnType<typeof handlesOf>).reverse();
  return handles.map((handle) => <Handle key={handle.pointId} handle={handle} />);
});

const StemHandles = memo(() => {
  const ends = useIds((s) =>
    s.resolved.struts.flatMap((x) => ENDS.filter((end) => x.ends[end].mount).map((end) => `${end} ${x.id}`)),
  );
  return ends.flatMap((key) => {
    const end = ENDS.find((e) => key.startsWith(e))!;
    const strut = key.slice(end.length + 1);
    return STEM_PARTS.map((what) => <StemHandle key={`${key} ${what}`} strut={strut} end={end} what={what} />);
  });
});

/** The scene graph of one view: layers by how often they change. */
export function Graph(): React.JSX.Element {
  const { plane } = useView();
  const tracing = useBench((s) => s.wizard !== null);
  const drawing = useZoneTool((draft) => draft !== null);
  const marking = useBench((s) => s.tool !== null) || drawing;
  const stems = useBench((s) => s.stage === 'joints');
  const clicking = tracing || marking;
  return (
    <>
      <Layer name="photos" listening={false}>
        {!tracing && <Photos />}
        {tracing && plane === 'side' && <TracedPhoto />}
      </Layer>
      <Layer name="lid" listening={false}>
        {!tracing && <Lid />}
        <ScaleBar />
      </Layer>
      <Layer name="scene" listening={false}>
        {!tracing && <Scene />}
        {tracing && plane === 'side' && <Tracing />}
      </Layer>
      <Layer name="handles">
        <Paper clicking={clicking} />
        {!clicking && <Handles />}
        {stems && !clicking && <StemHandles />}
      </Layer>
    </>
  );
}
