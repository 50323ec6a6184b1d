export { View3D } from './view';
export type { View3DOptions, View3DState } from './types';
