/** What every paper about a lid with a strut must say. */
export const CAUTIONS: readonly string[] = [
  'Keep a prop under the lid until the strut is proven. Never work under a lid that a strut alone holds.',
  'A gas spring is under high pressure for life: never open, heat, drill, weld or grip it by the rod.',
  'Where the lid would fly open without its load, take the strut off before you take the load off.',
  'Keep hands out of the gap between lid and frame, and off the strut while the lid moves.',
  "On a road vehicle, a vessel or a machine at work, local rules and a licensed person's judgement come before these figures.",
];
