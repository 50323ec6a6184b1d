export { TravelChart } from './chart';
