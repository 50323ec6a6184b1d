export { View3D } from './view';
