import { z } from 'zod';
import { num, showValue } from './number-field';
import { BRACKET_KINDS, FIXED_INTO, THREAD_NAMES } from './bracket-kinds';
import { PROOF_KINDS } from './proof-kinds';
import { KNOWN_KINDS, OBSERVATION_KINDS, RELATION_KINDS } from './survey-kinds';

export const FORMAT = 'lidwright-job';
export const VERSION = 1;

/** Most of anything that one job may hold: beyond it a file is torn or made to hang. */
const MANY = 500;
const named = (what: string) => ({
  error: (issue: { input?: unknown }) => `needs ${what}, but is ${showValue(issue.input)}`,
});
const id = z
  .string(named('an id (a short text)'))
  .min(1, 'needs an id, but is empty')
  .max(60, 'is too long for an id (60 characters)');
const label = z.string(named('a text')).max(200, 'is longer than 200 characters');
const list = <T extends z.ZodType>(item: T, what: string) =>
  z.array(item, named(`a list of ${what}`)).max(MANY, `has more than ${MANY} ${what}`);
const section = <T extends z.ZodRawShape>(shape: T) => z.looseObject(shape, named('an object'));

const coordinate = num({ dimension: 'length', min: -1e6, max: 1e6 });
const component = num({ dimension: 'number', min: -1e9, max: 1e9 });
const lengthOver0 = num({ dimension: 'length', min: 0, max: 1e5, open: true });
const lengthFrom0 = num({ dimension: 'length', min: 0, max: 1e5 });
const pixels = z.tuple([z.number(), z.number()], named('two pixel numbers'));
const pixelSpread = z.number(named('a number of pixels')).positive('must be over 0').max(1e5);
const vector = z.tuple([component, component, component], named('three numbers'));

export const givenSchema = section({
  name: z.string(named('a name')).min(1).max(40),
  expression: z.string(named('an expression')).max(300),
});

export const pointSchema = section({
  id,
  name: label.optional(),
  on: z.enum(['base', 'lid'], named('"base" or "lid"')),
  at: z.tuple([coordinate, coordinate, coordinate], named('three lengths x, y, z')),
});

/** A screw for wood, mm. */
const woodScrewSchema = section({
  diameterMm: lengthOver0,
  lengthMm: lengthOver0,
  threadMm: lengthOver0.optional(),
  rootMm: lengthOver0.optional(),
});

export const hingeSchema = section({
  a: id,
  b: id,
  opens: z.enum(['up', 'down'], named('"up" or "down"')),
  frictionNm: num({ dimension: 'moment', min: 0, max: 1e5 }).optional(),
  /** true: struts are meant to go through their dead centre. */
  overCentre: z.boolean(named('true or false')).optional(),
  /** What one hinge bears square to its axis. */
  ratedN: num({ dimension: 'force', min: 0, max: 1e6, open: true }).optional(),
  /** Wood screws of one leaf of one hinge, the leaf that holds less. */
  screws: section({
    count: z.number(named('how many screws')).int().min(1).max(20),
    diameterMm: lengthOver0,
    lengthMm: lengthOver0,
    /** What they are screwed into, by its name in the table of woods. */
    material: label,
    thicknessMm: lengthOver0,
    serviceClass: z.union([z.literal(1), z.literal(2), z.literal(3)], named('1, 2 or 3')).optional(),
  }).optional(),
});

/** A rubber seal round the lid: pushes it open at the outline's centroid, falling in a line to nothing over overMm of its way. */
export const sealSchema = section({
  /** With the lid closed. */
  forceN: num({ dimension: 'force', min: 0, max: 1e5 }),
  overMm: lengthOver0,
});

export const latchSchema = section({
  /** The point where it holds, on base or lid. */
  at: id,
  ratedN: num({ dimension: 'force', min: 0, max: 1e6, open: true }).optional(),
});

export const travelSchema = section({
  openDeg: num({ dimension: 'angle', min: 0, max: 350, open: true }),
  stop: z.enum(['lid', 'strut'], named('"lid" or "strut"')),
});

const place = z.tuple([coordinate, coordinate, coordinate], named('three lengths x, y, z'));
const turn = num({ dimension: 'angle', min: -1e4, max: 1e4 });

/** Bodies as boxes and cylinders, lid closed. */
const plainBodies = {
  /** rotationDeg turns it about X, then Y, then Z of the base frame, round its own centre. */
  box: section({
    centre: place,
    sizeMm: z.tuple([lengthOver0, lengthOver0, lengthOver0], named('three lengths')),
    rotationDeg: z.tuple([turn, turn, turn], named('three angles')).optional(),
  }).optional(),
  cylinder: section({ from: place, to: place, radiusMm: lengthOver0 }).optional(),
};

export const massSchema = section({
  id,
  name: label.optional(),
  kg: num({ dimension: 'mass', min: 0, max: 1e5 }),
  at: id,
  /** The room it takes on the lid, lid closed: a box or a cylinder. */
  body: section(plainBodies).optional(),
});

export const mountSchema = section({ normal: vector, reference: vector });

export const endSchema = section({
  fitting: z.string(named('a fitting')).min(1).max(60),
  rangeDeg: num({ dimension: 'angle', min: 0, max: 90, open: false }),
  stem: vector.optional(),
  mount: mountSchema.optional(),
  azimuthDeg: num({ dimension: 'angle', min: -1e4, max: 1e4 }).optional(),
  tiltDeg: num({ dimension: 'angle', min: -90, max: 90 }).optional(),
  /** The wedge that gives the tilt; under a bracket only how thin it is counts. Usual sizes where not given. */
  wedge: section({
    thinMm: lengthOver0.optional(),
    lengthMm: lengthOver0.optional(),
    widthMm: lengthOver0.optional(),
    holeMm: lengthOver0.optional(),
  }).optional(),
  /** Ball sockets: what pulls it off its ball, its clip in, as its maker states. */
  separatingN: num({ dimension: 'force', min: 0, max: 1e6, open: true }).optional(),
  /** Fork or eye only: how far the strut may swing about the pin to either side of swingMiddle. */
  swingDeg: num({ dimension: 'angle', min: 0, max: 180 }).optional(),
  /** Where the strut leaves in the middle of that swing; the mount's normal where it is not given. */
  swingMiddle: vector.optional(),
});

export const specSchema = section({
  extendedMm: lengthOver0,
  strokeMm: lengthFrom0,
  forceN: num({ dimension: 'force', min: 0, max: 1e6 }),
  ratio: num({ dimension: 'number', min: 0, max: 100 }),
  rodMm: lengthOver0,
  tubeMm: lengthOver0,
  frictionN: num({ dimension: 'force', min: 0, max: 1e5 }).optional(),
  toleranceN: z
    .tuple(
      [num({ dimension: 'force', min: -1e6, max: 1e6 }), num({ dimension: 'force', min: -1e6, max: 1e6 })],
      named('two forces, lower and upper'),
    )
    .optional(),
  /** Which of the numbers nobody knows: taken from common practice for this rod and tube. */
  assumed: list(
    z.enum(['ratio', 'frictionN', 'toleranceN'], named('"ratio", "frictionN" or "toleranceN"')),
    'names',
  ).optional(),
  /** Extended length and stroke as a list of the user's own sells them: while they stand, such a strut exists. */
  listedMm: z.tuple([lengthOver0, lengthFrom0], named('two lengths')).optional(),
});

export const strutSchema = section({
  id,
  name: label.optional(),
  base: id,
  lid: id,
  quantity: z.union([z.literal(1), z.literal(2)], named('1 or 2')).optional(),
  spec: specSchema,
  /** Which end the rod is at; the tube is at the other. Lid where it is not given. */
  rodAt: z.enum(['base', 'lid'], named('"base" or "lid"')).optional(),
  ends: section({ base: endSchema, lid: endSchema }),
});

/** A lifting element beside the struts: a coil spring between two points, or a torsion spring round the hinge. */
export const springSchema = section({
  id,
  name: label.optional(),
  kind: z.enum(['compression', 'extension', 'torsion'], named('"compression", "extension" or "torsion"')),
  quantity: z.union([z.literal(1), z.literal(2)], named('1 or 2')).optional(),
  /** Coil springs only: their two points. */
  base: id.optional(),
  lid: id.optional(),
  /** Coil: length at which the preload acts (free length, or the length it is caged at). */
  lengthMm: lengthOver0.optional(),
  rateNPerMm: num({ dimension: 'number', min: 0, max: 1e5, open: true }).optional(),
  preloadN: num({ dimension: 'force', min: 0, max: 1e6 }).optional(),
  /** Coil: how far it may be deflected from lengthMm. */
  mostDeflectionMm: lengthOver0.optional(),
  /** Torsion: whether it turns the lid open or shut. */
  turns: z.enum(['open', 'shut'], named('"open" or "shut"')).optional(),
  rateNmPerDeg: num({ dimension: 'number', min: 0, max: 1e4, open: true }).optional(),
  /** Torsion: moment with the lid closed. */
  preloadNm: num({ dimension: 'moment', min: 0, max: 1e5 }).optional(),
  /** Torsion: the most it may carry. */
  mostNm: num({ dimension: 'moment', min: 0, max: 1e5, open: true }).optional(),
});

export const windSchema = section({
  /** Speed, m/s. */
  ms: num({ dimension: 'number', min: 0, max: 100 }),
  /** Square to the lid, the way that it opens or shuts, wherever it stands; or a direction of the base frame. */
  towards: z.union([z.enum(['open', 'shut']), vector], named('"open", "shut" or three numbers')),
  /** Force over dynamic pressure and area; 2 where not given. */
  coefficient: num({ dimension: 'number', min: 0, max: 10 }).optional(),
});

const accel = num({ dimension: 'number', min: -10, max: 10 });

export const loadCaseSchema = section({
  id,
  name: label.optional(),
  off: list(id, 'mass ids').optional(),
  pitchDeg: num({ dimension: 'angle', min: -90, max: 90 }).optional(),
  rollDeg: num({ dimension: 'angle', min: -90, max: 90 }).optional(),
  tempC: num({ dimension: 'temperature', min: -100, max: 200 }).optional(),
  force: z.enum(['low', 'nominal', 'high'], named('"low", "nominal" or "high"')).optional(),
  /** Share of their gauge pressure that all struts have lost with age, percent. */
  ageLossPercent: num({ dimension: 'number', min: 0, max: 100 }).optional(),
  /** Struts that have failed: of a pair one is left, a single one gives nothing. */
  lost: list(id, 'strut ids').optional(),
  /** Whether the limits must hold here or are only told; without it they must, unless a strut is lost. */
  mustHold: z.boolean(named('true or false')).optional(),
  /** Acceleration of the base in its own axes, in g. */
  accelG: z.tuple([accel, accel, accel], named('three numbers')).optional(),
  wind: windSchema.optional(),
});

export const limitsSchema = section({
  handOpenN: num({ dimension: 'force', min: 0, max: 1e5 }).optional(),
  handCloseN: num({ dimension: 'force', min: 0, max: 1e5 }).optional(),
  reserveMm: num({ dimension: 'length', min: 0, max: 1e4 }).optional(),
  holdOpenNm: num({ dimension: 'moment', min: 0, max: 1e5 }).optional(),
  clearanceMm: num({ dimension: 'length', min: 0, max: 1e4 }).optional(),
  /** Most energy that the lid may throw itself open or shut with, undamped; no limit where not given. */
  letGoJ: num({ dimension: 'energy', min: 0, max: 1e5 }).optional(),
  /** Most that it may push at the grip when it is unlatched; no limit where not given. */
  letGoN: num({ dimension: 'force', min: 0, max: 1e5 }).optional(),
});

/** A question of a finding that the user has answered with a reason. */
export const dismissedSchema = section({
  finding: z.string(named('the id of a finding')).min(1).max(60),
  /** Which of its questions; all of it where not given. */
  about: z.string(named('what of it')).min(1).max(60).optional(),
  reason: label,
});

/** Something the strut must not touch, lid closed: exactly one of box, cylinder, traced. */
export const obstacleSchema = section({
  id,
  name: label.optional(),
  on: z.enum(['base', 'lid'], named('"base" or "lid"')),
  ...plainBodies,
  /** Corners as the view shows them (side: X, Z; top: X, Y; front: Y, Z), filled between two depths along what is left. */
  traced: section({
    view: z.enum(['side', 'top', 'front'], named('"side", "top" or "front"')),
    corners: list(z.tuple([coordinate, coordinate], named('two lengths')), 'corners'),
    depthMm: z.tuple([coordinate, coordinate], named('two lengths, from and to')),
  }).optional(),
  /** Round a pivot on the same body it is let be so far: that is where the joint stands on it. */
  freeMm: lengthFrom0.optional(),
});

/** The lid's own panel over its outline: what struts must clear, and what must clear base and walls. */
export const panelSchema = section({
  /** From the plane of the outline the way the lid opens, and against it; they win over thicknessMm. */
  upMm: lengthFrom0.optional(),
  downMm: lengthFrom0.optional(),
  /** What it is made of, inside first; they are as thick as it where nothing else is said. */
  layers: list(
    section({
      name: label.optional(),
      thicknessMm: lengthOver0,
      densityKgM3: num({ dimension: 'number', min: 0, max: 30_000 }).optional(),
    }),
    'layers',
  ).optional(),
  /** Half above and half below the plane of the outline. */
  thicknessMm: lengthFrom0.optional(),
  /** Round a strut's own lid pivot the panel is let be so far: that is where the joint stands on it. */
  freeMm: lengthFrom0.optional(),
});

/** Letters of a picture inside a plain job. */
export const LONGEST_PICTURE_TEXT = 60_000_000;

export const photoSchema = section({
  id,
  name: label.optional(),
  view: z.enum(['side', 'top', 'front'], named('"side", "top" or "front"')),
  source: z.union(
    [
      z.looseObject({
        inside: z
          .string()
          .regex(/^data:image\/(jpeg|png|webp);base64,/)
          .max(LONGEST_PICTURE_TEXT),
      }),
      z.looseObject({ beside: z.string().regex(/^[^/\\:\0]{1,200}$/) }),
    ],
    { error: 'needs {"inside": a data: image} or {"beside": a file name without folders}' },
  ),
  widthPx: z.number(named('a width in pixels')).int().min(1).max(100_000),
  heightPx: z.number(named('a height in pixels')).int().min(1).max(100_000),
  scale: section({ from: pixels, to: pixels, lengthMm: lengthOver0 }).optional(),
  rotationDeg: num({ dimension: 'angle', min: -1e4, max: 1e4 }).optional(),
  anchorPx: pixels,
  anchorMm: z.tuple([coordinate, coordinate], named('two lengths')),
  opacity: z.number(named('a number from 0 to 1')).min(0).max(1).optional(),
  /** Laid flat by four or more marks on one plane square to the view; scale, turn and anchor are then not looked at. */
  rectify: section({
    marks: z
      .array(
        section({
          name: label.optional(),
          px: pixels,
          /** Along the view's two axes (side: X, Z; top: X, Y; front: Y, Z). */
          planeMm: z.tuple([coordinate, coordinate], named('two lengths')),
        }),
        named('a list of marks'),
      )
      .min(4, 'needs four marks at least')
      .max(MANY, `has more than ${MANY} marks`),
    /** Where the plane crosses the axis that the view looks along. */
    depthMm: coordinate.optional(),
    /** Standard deviation of a mark; 1 where not given. */
    sigmaPx: pixelSpread.optional(),
  }).optional(),
  /** What is known of the focal length, in pixels of the picture as kept. Without sigmaPx it is taken as exact. */
  focal: section({
    px: pixelSpread,
    sigmaPx: pixelSpread.optional(),
    from: z.enum(['exif', 'typed'], named('"exif" or "typed"')),
  }).optional(),
  /** How the camera is found from the marks on this photo (readings of the kind photo-mark). */
  camera: section({
    /** Marked points whose places count as known: they stay where they are. */
    known: list(id, 'point ids'),
    /** Opening angle of the lid in the photo; closed where not given. */
    atDeg: num({ dimension: 'angle', min: 0, max: 350 }).optional(),
    /** true: the focal length comes from the marks alone. */
    solveFocal: z.boolean(named('true or false')).optional(),
    /** true: one radial term of the lens is solved too. */
    radial: z.boolean(named('true or false')).optional(),
  }).optional(),
});

/** One hole through the fixed leg, measured on that leg's flat. */
const fixingSchema = section({
  id,
  /** From the centre line, positive to the +y side of the bracket frame. */
  acrossMm: coordinate,
  /** From the free end of the fixed leg to the hole's centre. */
  fromEndMm: lengthFrom0,
  diameterMm: lengthOver0,
  /** Slot: distance between the centres of its two round ends; 0 or not given: a round hole. */
  slotMm: lengthFrom0.optional(),
  /** Direction of the slot: 0 runs along the bracket (x), 90 across it (y). */
  slotDeg: num({ dimension: 'angle', min: -360, max: 360 }).optional(),
});

export const bracketSchema = section({
  id,
  name: label.optional(),
  kind: z.enum(BRACKET_KINDS, named('a kind of bracket')),
  strut: id,
  end: z.enum(['base', 'lid'], named('"base" or "lid"')),
  /** true: bought ready-made, so nothing of it is cut or bent. */
  bought: z.boolean(named('true or false')).optional(),
  /** Sheet, plate; wedge plate: where it is thinnest. */
  thicknessMm: lengthOver0,
  /** Bent kinds only. */
  insideRadiusMm: lengthFrom0.optional(),
  /** The leg on the mount, outside length along the bracket; flat tab and wedge plate: the whole length. */
  baseLegMm: lengthOver0,
  /** Bent kinds: outside length of the leg (of both legs) that stands up. */
  uprightLegMm: lengthOver0.optional(),
  baseWidthMm: lengthOver0,
  /** Width at the stud's end; as the base where not given. */
  topWidthMm: lengthOver0.optional(),
  baseCornerRadiusMm: lengthFrom0,
  topCornerRadiusMm: lengthFrom0.optional(),
  /** Holes for the fixings in a pattern, symmetric about the centre line. Ignored where `fixings` is given. */
  baseHole: section({
    diameterMm: lengthOver0,
    /** Across, between neighbours of a row. */
    spacingMm: lengthOver0,
    /** From the free end of the fixed leg to the first row. */
    fromEndMm: lengthOver0,
    /** Holes in a row; 2 where not given. */
    across: z.number(named('1, 2 or 3')).int().min(1).max(3).optional(),
    /** Rows along the bracket; 1 where not given. */
    rows: z.number(named('1, 2 or 3')).int().min(1).max(3).optional(),
    rowSpacingMm: lengthOver0.optional(),
    slotMm: lengthFrom0.optional(),
    slotDeg: num({ dimension: 'angle', min: -360, max: 360 }).optional(),
  }).optional(),
  /** 1 to 6 holes placed freely; takes the place of the pattern. */
  fixings: z.array(fixingSchema, named('a list of holes')).min(1).max(6).optional(),
  studHole: section({
    diameterMm: lengthOver0,
    /** Bent kinds: height of the stud's axis over the mount. */
    heightMm: lengthOver0.optional(),
    /** Flat tab and wedge plate: from the stud's end of the plate to the stud's axis. */
    fromEndMm: lengthOver0.optional(),
    /** Sideways from the centre line (y). */
    acrossMm: coordinate.optional(),
  }),
  /** From the face the stud stands on to the ball's centre. */
  ballOffsetMm: lengthFrom0,
  /** outside: on the face turned away from the base leg (tab, wedge: away from the mount). inside: the other face. */
  ballSide: z.enum(['outside', 'inside'], named('"outside" or "inside"')).optional(),
  /** Channel: clear width between its two uprights; the joint sits in the middle of it. */
  gapMm: lengthOver0.optional(),
  /** Angle with gusset: triangular plates welded into the bend. */
  gusset: section({
    thicknessMm: lengthOver0,
    /** Its legs along the base and up the upright, from the sharp inner corner of the bend. */
    alongMm: lengthOver0,
    upMm: lengthOver0,
    /** 1: on the centre line. 2: one at each side. */
    count: z.union([z.literal(1), z.literal(2)], named('1 or 2')),
    /** Two gussets: from the centre line to the middle of each. */
    acrossMm: lengthFrom0.optional(),
    weldThroatMm: lengthOver0.optional(),
  }).optional(),
  /** Wedge plate: its top leans by tiltDeg, rising towards directionDeg (0: along the bracket, 90: across). */
  wedge: section({
    tiltDeg: num({ dimension: 'angle', min: 0, max: 60 }),
    directionDeg: num({ dimension: 'angle', min: -360, max: 360 }).optional(),
  }).optional(),
  stud: section({
    thread: z.enum(THREAD_NAMES, named('a coarse thread, M4 to M16')),
    propertyClass: label.optional(),
  }).optional(),
  /** How it is held to its mount; two bolts' worth of defaults where not given. */
  attach: section({
    by: z.enum(['bolts', 'weld', 'both'], named('"bolts", "weld" or "both"')),
    thread: z.enum(THREAD_NAMES, named('a coarse thread, M4 to M16')).optional(),
    propertyClass: label.optional(),
    /** through: bolt and nut. tapped: thread cut in the mount. insert: rivet nut or thread insert. wood: wood or coach screws. rivet: blind rivets. */
    into: z.enum(FIXED_INTO, named('"through", "tapped", "insert", "wood" or "rivet"')).optional(),
    /** Wood or coach screws: outside of the thread, whole length under the head; thread 0.6 of it and root 0.7 of the diameter where not given. */
    screw: woodScrewSchema.optional(),
    /** Blind rivets: the shear force their maker states, each. */
    rivetShearN: num({ dimension: 'force', min: 0, max: 1e6, open: true }).optional(),
    /** Tapped or insert: length of thread that carries. */
    engagementMm: lengthOver0.optional(),
    /** Insert, rivet, screw in wood: the pull-out force its maker states, or that a pull test gave. */
    insertPullN: num({ dimension: 'force', min: 0, max: 1e6, open: true }).optional(),
    /** Tightening; a share of the proof load stated in the findings where not given. */
    preloadN: num({ dimension: 'force', min: 0, max: 1e6 }).optional(),
    friction: num({ dimension: 'number', min: 0, max: 1.5 }).optional(),
    weldThroatMm: lengthOver0.optional(),
    /** Which edges of the fixed leg are welded. */
    weldEdges: z.enum(['all', 'sides', 'ends'], named('"all", "sides" or "ends"')).optional(),
  }).optional(),
  /** The panel or beam it is fixed to. */
  seat: section({
    thicknessMm: lengthOver0,
    material: section({
      name: label,
      yieldMPa: num({ dimension: 'number', min: 0, max: 5000, open: true }).optional(),
      ultimateMPa: num({ dimension: 'number', min: 0, max: 5000, open: true }).optional(),
    }),
    /** Wood: 1 dry and heated, 2 under a roof, 3 in the weather (EN 1995-1-1 2.3.1.3); 3 where not given. */
    serviceClass: z.union([z.literal(1), z.literal(2), z.literal(3)], named('1, 2 or 3')).optional(),
    /** A plate behind or under it that spreads the load. */
    spreader: section({ thicknessMm: lengthOver0, widthMm: lengthOver0, lengthMm: lengthOver0 }).optional(),
  }).optional(),
  /** The joint's force is multiplied by this for shocks; the stated default where not given. */
  shockFactor: num({ dimension: 'number', min: 1, max: 10 }).optional(),
  /** What stays as it is while edges and holes are dragged. */
  keep: section({
    /** Holes stay mirrored about the centre line. */
    mirrored: z.boolean().optional(),
    /** Holes keep this distance from the free end as the leg's length changes. */
    fromEnd: z.boolean().optional(),
    /** No hole's centre comes nearer to an edge than this. */
    edgeMm: lengthOver0.optional(),
  }).optional(),
  /** Coating or treatment of the finished part; as made where not given. */
  finish: label.optional(),
  material: section({
    name: label,
    densityKgM3: num({ dimension: 'number', min: 0, max: 30_000, open: true }),
    /** Yield and tensile strength; from the table of materials by its name where not given. */
    yieldMPa: num({ dimension: 'number', min: 0, max: 5000, open: true }).optional(),
    ultimateMPa: num({ dimension: 'number', min: 0, max: 5000, open: true }).optional(),
  }),
});

export const papersSchema = section({
  paper: z.enum(['A4', 'A3'], named('"A4" or "A3"')).optional(),
  projection: z.enum(['first', 'third'], named('"first" or "third"')).optional(),
  owner: label.optional(),
  creator: label.optional(),
  approver: label.optional(),
  /** Identification number of the first drawing; the bracket's id is added. */
  number: label.optional(),
  /** Issue of the drawings: "B". */
  revision: label.optional(),
  /** Edges that a tape is held to, each a straight line between two points of one body: "top edge", "rear wall". */
  edges: list(section({ name: label, from: id, to: id }), 'edges').optional(),
});

/** Something measured: which kind, between which points, the value read, and how sure it is. */
export const observationSchema = section({
  id,
  name: label.optional(),
  kind: z.enum(OBSERVATION_KINDS, named('a kind of reading')),
  /** As many as the kind takes, in its order. */
  points: list(id, 'point ids'),
  /** Coordinate: which one. Mirror twin: the coordinate turned round, where the plane is not the hinge's middle. */
  axis: z.enum(['x', 'y', 'z'], named('"x", "y" or "z"')).optional(),
  /** Coordinate: where the datum plane lies on that axis (0 where not given); the value is read from there. */
  datumMm: coordinate.optional(),
  valueMm: coordinate.optional(),
  valueDeg: num({ dimension: 'angle', min: -180, max: 180 }).optional(),
  /** Opening angle of the lid when it was read; closed where not given. */
  atDeg: num({ dimension: 'angle', min: 0, max: 350 }).optional(),
  /** Standard deviation; the instrument's usual one where not given. */
  sigmaMm: lengthOver0.optional(),
  sigmaDeg: num({ dimension: 'angle', min: 0, max: 180, open: true }).optional(),
  /** Mark on a photo: which photo, where on it (from the upper left corner), and how sure the mark is. */
  photo: id.optional(),
  px: pixels.optional(),
  sigmaPx: pixelSpread.optional(),
  /** Nobody read it: it follows from something known of the lid, which is taken back with all that follows from it. */
  known: z.enum(KNOWN_KINDS, named('"rectangle", "square", "hinge" or "alike"')).optional(),
  /** false: kept, but left out of the adjustment. */
  use: z.boolean(named('true or false')).optional(),
});

/** Something demanded of the geometry, lid closed unless the kind says otherwise. */
export const relationSchema = section({
  id,
  name: label.optional(),
  kind: z.enum(RELATION_KINDS, named('a kind of condition')),
  points: list(id, 'point ids').optional(),
  /** Closed or open length: of which strut. */
  strut: id.optional(),
  /** Only as seen in this view; in space where not given. */
  view: z.enum(['side', 'top', 'front'], named('"side", "top" or "front"')).optional(),
  /** On a plane: across this axis, at valueMm. Mirrored: in the plane across this axis, at valueMm. */
  axis: z.enum(['x', 'y', 'z'], named('"x", "y" or "z"')).optional(),
  valueMm: coordinate.optional(),
  valueDeg: num({ dimension: 'angle', min: -180, max: 180 }).optional(),
  /** Circle about the hinge: its plane's distance from hinge A along the axis towards B; a cylinder where not given. */
  alongMm: coordinate.optional(),
  /** Fixed: where. */
  at: z.tuple([coordinate, coordinate, coordinate], named('three lengths x, y, z')).optional(),
  /** false: kept, but not demanded. */
  use: z.boolean(named('true or false')).optional(),
});

/** Mass items that were on the lid then, what was weighed among them; all but `off` in files that don't say. */
const onLid = list(id, 'mass ids').optional();

/** What a scale read that held the lid still at its grip, struts off. */
export const pullSchema = section({
  id,
  angleDeg: num({ dimension: 'angle', min: -90, max: 350 }),
  /** Holds the lid up where positive. */
  forceN: num({ dimension: 'force', min: -1e5, max: 1e5 }),
  /** At right angles to the line from hinge to grip (square, where not given), or straight up as a hung scale pulls. */
  pull: z.enum(['square', 'upright'], named('"square" or "upright"')).optional(),
  /** Read on one of the two ways only: hinge friction is in it. The mean of both where not given. */
  while: z.enum(['lifting', 'lowering'], named('"lifting" or "lowering"')).optional(),
  on: onLid,
  /** false: kept, but left out of the sum. */
  use: z.boolean(named('true or false')).optional(),
});

/** What the scales read under two edges of the lid, lifted off. */
export const liftedSchema = section({
  id,
  /** A point at each edge where the lid stood. */
  between: z.tuple([id, id], named('two point ids')),
  /** How far it was turned from how it lies when closed, the second edge up where positive. */
  tiltDeg: num({ dimension: 'angle', min: -180, max: 180 }).optional(),
  /** Left out where a block stood instead of a scale. */
  firstN: num({ dimension: 'force', min: -1e5, max: 1e5 }).optional(),
  secondN: num({ dimension: 'force', min: -1e5, max: 1e5 }).optional(),
  on: onLid,
  use: z.boolean(named('true or false')).optional(),
});

const sigmaForce = num({ dimension: 'force', min: 0, max: 1e5, open: true });
const sigmaAngle = num({ dimension: 'angle', min: 0, max: 90 });
/** What was weighed: the mass item to correct (a new one where not given), and the items that were not on the lid then. */
const weighed = { of: id.optional(), off: list(id, 'mass ids').optional() };

export const weighingsSchema = section({
  /** What the scale shows; forces are in N here all the same. */
  scale: z.enum(['kg', 'N', 'lb'], named('"kg", "N" or "lb"')).optional(),
  pulls: section({
    readings: list(pullSchema, 'pulls').optional(),
    sigmaN: sigmaForce.optional(),
    sigmaDeg: sigmaAngle.optional(),
    /** How the base stood then. */
    pitchDeg: num({ dimension: 'angle', min: -90, max: 90 }).optional(),
    rollDeg: num({ dimension: 'angle', min: -90, max: 90 }).optional(),
    ...weighed,
    /** The one fact that pulls don't give: its mass, or how far out its centre lies (arm, where not given). */
    known: z.enum(['mass', 'arm'], named('"mass" or "arm"')).optional(),
    kg: num({ dimension: 'mass', min: 0, max: 1e5, open: true }).optional(),
    sigmaKg: num({ dimension: 'mass', min: 0, max: 1e5 }).optional(),
    armMm: lengthOver0.optional(),
    sigmaArmMm: lengthFrom0.optional(),
  }).optional(),
  lifted: section({
    readings: list(liftedSchema, 'weighings').optional(),
    sigmaN: sigmaForce.optional(),
    sigmaDeg: sigmaAngle.optional(),
    /** How sure it is where along the line between them the edges carried. */
    sigmaMm: lengthFrom0.optional(),
    ...weighed,
  }).optional(),
});

/** Something measured on the fitted lid. */
export const proofReadingSchema = section({
  id,
  what: z.enum(PROOF_KINDS, named('a kind of measurement')),
  /** What is measured on a strut: which, and which end of it. */
  strut: id.optional(),
  end: z.enum(['base', 'lid'], named('"base" or "lid"')).optional(),
  /** Strut length, joint angle: with the lid shut or as far open as it goes; at angleDeg where not given. */
  at: z.enum(['closed', 'open'], named('"closed" or "open"')).optional(),
  angleDeg: num({ dimension: 'angle', min: 0, max: 350 }).optional(),
  /** Hand force: which way the lid moves; positive where the hand pushes the way it opens. */
  way: z.enum(['opening', 'closing'], named('"opening" or "closing"')).optional(),
  /** At right angles to the line from hinge to grip (square, where not given), or straight up. */
  pull: z.enum(['square', 'upright'], named('"square" or "upright"')).optional(),
  /** true: the struts were taken off for it. */
  strutsOff: z.boolean(named('true or false')).optional(),
  valueMm: lengthFrom0.optional(),
  valueN: num({ dimension: 'force', min: -1e5, max: 1e5 }).optional(),
  valueDeg: num({ dimension: 'angle', min: 0, max: 350 }).optional(),
  valueKg: num({ dimension: 'mass', min: 0, max: 1e5 }).optional(),
  /** Standard deviation in the kind's own unit; the usual one of the tool where not given. */
  sigmaMm: lengthOver0.optional(),
  sigmaN: num({ dimension: 'force', min: 0, max: 1e5, open: true }).optional(),
  sigmaDeg: num({ dimension: 'angle', min: 0, max: 90, open: true }).optional(),
  sigmaKg: num({ dimension: 'mass', min: 0, max: 1e4, open: true }).optional(),
  /** Load case it was read in, where not the proof's own. */
  loadCase: id.optional(),
  tempC: num({ dimension: 'temperature', min: -100, max: 200 }).optional(),
  /** false: kept, but left out. */
  use: z.boolean(named('true or false')).optional(),
});

/** What was measured after fitting. */
export const proofSchema = section({
  date: label.optional(),
  /** Which masses were on and how the base stood; the first load case where not given. */
  loadCase: id.optional(),
  /** Of the struts, then; 20 °C where not given. */
  tempC: num({ dimension: 'temperature', min: -100, max: 200 }).optional(),
  readings: list(proofReadingSchema, 'measurements').optional(),
});

/** A flat patch of a surface where a mount could be fixed, lid closed. */
export const zoneSchema = section({
  id,
  name: label.optional(),
  on: z.enum(['base', 'lid'], named('"base" or "lid"')),
  corners: list(place, 'corners'),
  /** The way its surface looks; its plane stands square to it, through the mean of the corners. */
  faces: vector,
  /** Least and most that a ball may stand off its surface. */
  offMm: z.tuple([lengthFrom0, lengthFrom0], named('two lengths, least and most')),
  strength: z.enum(['strong', 'plain'], named('"strong" or "plain"')).optional(),
  material: label.optional(),
  thicknessMm: lengthOver0.optional(),
});

/** One line of a list of struts: a body that is sold with a range of forces. */
export const listEntrySchema = section({
  name: z.string(named('an order name')).min(1).max(200),
  extendedMm: lengthOver0,
  strokeMm: lengthOver0,
  rodMm: lengthOver0,
  tubeMm: lengthOver0,
  forceMinN: num({ dimension: 'force', min: 0, max: 1e6, open: true }),
  forceMaxN: num({ dimension: 'force', min: 0, max: 1e6, open: true }),
  /** 0: there is one force only. */
  forceStepN: num({ dimension: 'force', min: 0, max: 1e6 }),
  ratio: num({ dimension: 'number', min: 0, max: 100 }).optional(),
  frictionN: num({ dimension: 'force', min: 0, max: 1e5 }).optional(),
  /** Either side of the nominal force. */
  toleranceN: num({ dimension: 'force', min: 0, max: 1e6 }).optional(),
  endThread: label.optional(),
});

/** What a place for the strut is looked for with. */
export const findSchema = section({
  /** The generic list where not given. */
  list: z
    .union(
      [
        z.literal('generic'),
        section({
          entries: z
            .array(listEntrySchema, named('a list of struts'))
            .min(1, 'needs one strut at least')
            .max(5000, 'has more than 5000 struts'),
        }),
      ],
      named('"generic" or {"entries": a list of struts}'),
    )
    .optional(),
  quantity: z.enum(['one', 'pair', 'either'], named('"one", "pair" or "either"')).optional(),
  /** How far the lid may open: whole degrees of this range; as far as the travel where not given. */
  openDeg: z
    .tuple(
      [
        num({ dimension: 'angle', min: 0, max: 350, open: true }),
        num({ dimension: 'angle', min: 0, max: 350, open: true }),
      ],
      named('two angles, least and most'),
    )
    .optional(),
  /** A place with less is not offered. */
  keep: section({
    spare: num({ dimension: 'number', min: 0, max: 1 }).optional(),
    playMm: num({ dimension: 'length', min: 0, max: 1e4 }).optional(),
  }).optional(),
  /** What both ends get, where it is not what the strut has now. */
  fitting: z.string(named('a fitting')).min(1).max(60).optional(),
});

/** The one truth about a job file, version 1. Unknown keys are kept. */
export const jobSchema = z
  .looseObject(
    {
      format: z.literal(FORMAT, named(`"${FORMAT}"`)),
      version: z.literal(VERSION, named(String(VERSION))),
      title: label,
      givens: list(givenSchema, 'givens').optional(),
      points: list(pointSchema, 'points'),
      hinge: hingeSchema,
      travel: travelSchema,
      grip: id,
      outline: list(id, 'point ids').optional(),
      masses: list(massSchema, 'masses'),
      struts: list(strutSchema, 'struts'),
      springs: list(springSchema, 'springs').optional(),
      loadCases: list(loadCaseSchema, 'load cases').min(1, 'needs one load case at least'),
      limits: limitsSchema.optional(),
      seal: sealSchema.optional(),
      latch: latchSchema.optional(),
      dismissed: list(dismissedSchema, 'questions').optional(),
      /** Values that nobody has stated, by section, id and key: "masses.panel.kg". */
      assumed: list(z.string(named('a path')).min(1).max(200), 'paths').optional(),
      photos: list(photoSchema, 'photos').optional(),
      brackets: list(bracketSchema, 'brackets').optional(),
      obstacles: list(obstacleSchema, 'obstacles').optional(),
      panel: panelSchema.optional(),
      zones: list(zoneSchema, 'zones').optional(),
      find: findSchema.optional(),
      observations: list(observationSchema, 'readings').optional(),
      relations: list(relationSchema, 'relations').optional(),
      weighings: weighingsSchema.optional(),
      papers: papersSchema.optional(),
      proof: proofSchema.optional(),
    },
    named('an object'),
  )
  .meta({
    title: 'Lidwright job',
    description: 'Everything about one hinged lid. Lengths mm, masses kg, forces N, angles degrees, temperatures °C.',
  });
