import type { BenchState } from '../../state/store';
import { type Scene, buildScene } from './scene';

let last: { readonly key: readonly unknown[]; readonly scene: Scene } | null = null;

/** The scene of a state: built once and shared by the three views. */
export function sceneOf(state: BenchState): Scene {
  const key = [state.resolved, state.outcome, state.angleDeg, state.caseId];
  if (!last || key.some((part, i) => part !== last!.key[i]))
    last = { key, scene: buildScene(state.resolved, state.outcome, state.angleDeg, state.caseId) };
  return last.scene;
}
