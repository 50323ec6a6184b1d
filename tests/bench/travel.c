// The sums of core/travel/kinematics.ts and sweep.ts once more in C, to see what the engine costs beside a compiler.
// travel-c.bench.ts writes data.h, the struct `plan` of a job. Usage: travel <angles> <milliseconds>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

typedef struct { double fixed[3], even[3], odd[3]; } Turning;
typedef struct { double *radial, *axial, *hinge_b, *length, *arm; } Line;
typedef struct {
  double base[3];
  Turning lid;
  double base_stem[3];
  Turning lid_stem;
  double extended, stroke, full_mpa, fill, area, half_friction;
  int quantity;
} Strut;
typedef struct {
  double base[3];
  Turning lid;
  double rate, free_length, preload;
  int quantity, compression;
} Coil;
typedef struct {
  double along[3], opening[3], span;
  Turning grip;
  double grip_radius;
  double gravity[3], mass;
  Turning first;
  double cos_nmm, sin_nmm, friction_nmm;
  Strut struts[STRUTS];
  Coil coils[COILS];
} Plan;

#include "data.h"

#define ATMOSPHERE_MPA (101325.0 * 1e-6)
#define SLACK_MM 1e-6
#define LEAST_ARM_MM 1e-6
#define NOINLINE __attribute__((noinline))
static const double PI = 3.14159265358979323846;

typedef struct {
  double *angle, *cos, *sin;
  double *hand;
  Line strut[STRUTS], coil[COILS];
  double *compression[STRUTS], *base_joint[STRUTS], *lid_joint[STRUTS];
  double *push[COILS], *moment[COILS];
  double *spring_moment, *spring_radial, *spring_axial, *spring_b;
} Kinematics;
typedef struct {
  double *weight, *opening, *closing, *hand_opening, *hand_closing, *hinge_a, *hinge_b, *axial;
  double *balance[STRUTS], *extending[STRUTS], *compressing[STRUTS];
} Table;

static double dot(const double *a, const double *b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; }

// rows are cut from one block, as ours are
static double *block, *next_row;
static double *row(int n) {
  next_row += n;
  return next_row - n;
}

static NOINLINE void add_push(int n, const Line *line, const double *restrict push, int quantity, double *restrict radial_n,
                              double *restrict axial_n, double *restrict b_n) {
  const double *restrict radial = line->radial, *restrict axial = line->axial;
  const double *at_b = quantity == 2 ? line->radial : line->hinge_b;
  const double share = quantity == 2 ? -1 : quantity, single = quantity == 2 ? 0 : quantity;
  for (int i = 0, j = 0; i < n; i++, j += 3) {
    const double p = push[i], all = quantity * p, of_b = share * p;
    axial_n[i] -= single * p * axial[i];
    for (int k = 0; k < 3; k++) {
      radial_n[j + k] += all * radial[j + k];
      b_n[j + k] += of_b * at_b[j + k];
    }
  }
}

static NOINLINE void pivot_line(int n, const Plan *p, const double *base, const Turning *lid, const double *restrict cs,
                                const double *restrict sn, const Line *out) {
  const double *a = p->along, *o = p->opening;
  double *restrict radial = out->radial, *restrict hinge_b = out->hinge_b, *restrict axial = out->axial;
  double *restrict length_mm = out->length, *restrict arm = out->arm;
  const double lid_along = dot(a, lid->fixed), ends_along = lid_along - dot(a, base), per_span = 1 / p->span;
  const double ax = a[0], ay = a[1], az = a[2], ox = o[0], oy = o[1], oz = o[2];
  const Turning t = *lid;
  const double bx = base[0], by = base[1], bz = base[2];
  for (int i = 0, j = 0; i < n; i++, j += 3) {
    const double c = cs[i], s = sn[i];
    const double rx = t.even[0] * c + t.odd[0] * s, ry = t.even[1] * c + t.odd[1] * s, rz = t.even[2] * c + t.odd[2] * s;
    const double lx = t.fixed[0] + rx, ly = t.fixed[1] + ry, lz = t.fixed[2] + rz;
    const double dx = lx - bx, dy = ly - by, dz = lz - bz;
    const double length = sqrt(dx * dx + dy * dy + dz * dz);
    const double per = length < 1e-9 ? NAN : 1 / length;
    const double ux = dx * per, uy = dy * per, uz = dz * per, ua = ends_along * per;
    const double vx = ux - ua * ax, vy = uy - ua * ay, vz = uz - ua * az;
    length_mm[i] = length;
    arm[i] = ox * (ly * uz - lz * uy) + oy * (lz * ux - lx * uz) + oz * (lx * uy - ly * ux);
    axial[i] = ua;
    radial[j] = vx;
    radial[j + 1] = vy;
    radial[j + 2] = vz;
    hinge_b[j] = per_span * (rx * ua - vx * lid_along);
    hinge_b[j + 1] = per_span * (ry * ua - vy * lid_along);
    hinge_b[j + 2] = per_span * (rz * ua - vz * lid_along);
  }
}

static double angle_deg(double nx, double ny, double nz, double ux, double uy, double uz) {
  const double mx = ny * uz - nz * uy, my = nz * ux - nx * uz, mz = nx * uy - ny * ux;
  return atan2(sqrt(mx * mx + my * my + mz * mz), nx * ux + ny * uy + nz * uz) * 180 / PI;
}

static NOINLINE void joint_angles(int n, const double *a, const Strut *strut, const double *restrict cs,
                                  const double *restrict sn, const Line *line, double *restrict base_deg,
                                  double *restrict lid_deg) {
  const double *restrict radial = line->radial, *restrict axial = line->axial;
  const Turning t = strut->lid_stem;
  const double ax = a[0], ay = a[1], az = a[2];
  const double bx = strut->base_stem[0], by = strut->base_stem[1], bz = strut->base_stem[2];
  for (int i = 0, j = 0; i < n; i++, j += 3) {
    const double c = cs[i], s = sn[i], ua = axial[i];
    const double ux = radial[j] + ua * ax, uy = radial[j + 1] + ua * ay, uz = radial[j + 2] + ua * az;
    base_deg[i] = angle_deg(bx, by, bz, ux, uy, uz);
    lid_deg[i] = angle_deg(t.fixed[0] + t.even[0] * c + t.odd[0] * s, t.fixed[1] + t.even[1] * c + t.odd[1] * s,
                           t.fixed[2] + t.even[2] * c + t.odd[2] * s, ux, uy, uz);
  }
}

static NOINLINE void kinematics(int n, const Plan *p, Kinematics *k) {
  for (int i = 0; i < n; i++) {
    const double angle = k->angle[i] * PI / 180;
    k->cos[i] = cos(angle);
    k->sin[i] = sin(angle);
  }
  for (int i = 0, j = 0; i < n; i++, j += 3) {
    const double c = k->cos[i] / p->grip_radius, s = k->sin[i] / p->grip_radius;
    for (int x = 0; x < 3; x++) k->hand[j + x] = p->grip.odd[x] * c - p->grip.even[x] * s;
  }
  for (int m = 0; m < STRUTS; m++) {
    const Strut *strut = &p->struts[m];
    pivot_line(n, p, strut->base, &strut->lid, k->cos, k->sin, &k->strut[m]);
    const double *restrict length = k->strut[m].length;
    double *restrict out = k->compression[m];
    const double extended = strut->extended, stroke = strut->stroke;
    for (int i = 0; i < n; i++) {
      const double raw = extended - length[i];
      const double most = raw > 0 ? raw : 0;
      out[i] = raw >= -SLACK_MM && raw <= stroke + SLACK_MM ? (most < stroke ? most : stroke) : NAN;
    }
    joint_angles(n, p->along, strut, k->cos, k->sin, &k->strut[m], k->base_joint[m], k->lid_joint[m]);
  }
  memset(k->spring_moment, 0, n * sizeof(double));
  memset(k->spring_radial, 0, 3 * n * sizeof(double));
  memset(k->spring_axial, 0, n * sizeof(double));
  memset(k->spring_b, 0, 3 * n * sizeof(double));
  for (int m = 0; m < COILS; m++) {
    const Coil *coil = &p->coils[m];
    pivot_line(n, p, coil->base, &coil->lid, k->cos, k->sin, &k->coil[m]);
    const double *restrict length = k->coil[m].length, *restrict arm = k->coil[m].arm;
    const double way = coil->compression ? 1 : -1;
    for (int i = 0; i < n; i++) {
      const double side = way * (coil->free_length - length[i]);
      k->push[m][i] = side < 0 ? 0 : way * (coil->preload + coil->rate * side);
      k->moment[m][i] = coil->quantity * k->push[m][i] * arm[i] / 1000;
    }
    add_push(n, &k->coil[m], k->push[m], coil->quantity, k->spring_radial, k->spring_axial, k->spring_b);
    for (int i = 0; i < n; i++) k->spring_moment[i] += k->moment[m][i];
  }
}

static NOINLINE void strut_pushes(int n, const Strut *strut, const double *restrict compression, const double *restrict arms,
                                  const double *restrict weight, double *restrict opening, double *restrict closing,
                                  double *restrict balance, double *restrict extending, double *restrict compressing,
                                  double *restrict push) {
  const double full = strut->full_mpa, fill = strut->fill, area = strut->area, half = strut->half_friction;
  const double quantity = strut->quantity;
  for (int i = 0; i < n; i++) {
    const double arm = arms[i], gas = (full / (1 - fill * compression[i]) - ATMOSPHERE_MPA) * area;
    const double out = gas - half, in = gas + half;
    balance[i] = fabs(arm) < LEAST_ARM_MM ? NAN : -1000 * weight[i] / (quantity * arm);
    extending[i] = out;
    compressing[i] = in;
    push[i] = arm >= 0 ? out : in;
    opening[i] += quantity * push[i] * arm;
    closing[i] += quantity * (arm >= 0 ? in : out) * arm;
  }
}

static NOINLINE void case_table(int n, const Plan *p, const Kinematics *k, Table *t) {
  const double gravity_along = dot(p->along, p->gravity);
  double square[3], w[3], f[3], e[3], q[3];
  for (int x = 0; x < 3; x++) {
    square[x] = p->gravity[x] - gravity_along * p->along[x];
    w[x] = p->mass * square[x];
    f[x] = square[x] * (-dot(p->along, p->first.fixed) / p->span);
    e[x] = p->first.even[x] * gravity_along / p->span;
    q[x] = p->first.odd[x] * gravity_along / p->span;
  }
  for (int i = 0, j = 0; i < n; i++, j += 3) {
    const double c = k->cos[i], s = k->sin[i], weight = p->cos_nmm * c + p->sin_nmm * s;
    t->weight[i] = weight / 1000;
    t->opening[i] = weight - p->friction_nmm;
    t->closing[i] = weight + p->friction_nmm;
    t->axial[i] = k->spring_axial[i] - p->mass * gravity_along;
    for (int x = 0; x < 3; x++) {
      t->hinge_a[j + x] = k->spring_radial[j + x] + w[x];
      t->hinge_b[j + x] = k->spring_b[j + x] + f[x] + e[x] * c + q[x] * s;
    }
  }
  for (int m = 0; m < STRUTS; m++) {
    strut_pushes(n, &p->struts[m], k->compression[m], k->strut[m].arm, t->weight, t->opening, t->closing, t->balance[m],
                 t->extending[m], t->compressing[m], t->hand_opening);
    add_push(n, &k->strut[m], t->hand_opening, p->struts[m].quantity, t->hinge_a, t->axial, t->hinge_b);
  }
  const double per_radius = -1 / p->grip_radius, of_b = -dot(p->along, p->grip.fixed) / p->span;
  double *restrict hinge_a = t->hinge_a, *restrict hinge_b = t->hinge_b;
  const double *restrict hand = k->hand;
  for (int i = 0, j = 0; i < n; i++) {
    const double open = t->opening[i] + 1000 * k->spring_moment[i], close = t->closing[i] + 1000 * k->spring_moment[i];
    const double held = open * per_radius;
    t->opening[i] = open / 1000;
    t->closing[i] = close / 1000;
    t->hand_opening[i] = held;
    t->hand_closing[i] = close * per_radius;
    for (const int end = j + 3; j < end; j++) {
      const double push = held * hand[j];
      hinge_b[j] += of_b * push;
      hinge_a[j] = -hinge_a[j] - push - hinge_b[j];
    }
  }
}

static Line new_line(int n) { return (Line){row(3 * n), row(n), row(3 * n), row(n), row(n)}; }

// all rows in one new block; `angles`: the travel's angles, which are the caller's
static NOINLINE void new_tables(int n, double *angles, Kinematics *k, Table *t) {
  block = next_row = calloc((size_t)n * (25 + 15 * STRUTS + 11 * COILS), sizeof(double));
  *k = (Kinematics){.angle = angles, .cos = row(n), .sin = row(n), .hand = row(3 * n), .spring_moment = row(n),
                    .spring_radial = row(3 * n), .spring_axial = row(n), .spring_b = row(3 * n)};
  *t = (Table){row(n), row(n), row(n), row(n), row(n), row(3 * n), row(3 * n), row(n), {0}, {0}, {0}};
  for (int m = 0; m < STRUTS; m++) {
    k->strut[m] = new_line(n);
    k->compression[m] = row(n), k->base_joint[m] = row(n), k->lid_joint[m] = row(n);
    t->balance[m] = row(n), t->extending[m] = row(n), t->compressing[m] = row(n);
  }
  for (int m = 0; m < COILS; m++) k->coil[m] = new_line(n), k->push[m] = row(n), k->moment[m] = row(n);
}

static double now_ns(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return 1e9 * t.tv_sec + t.tv_nsec;
}

static void print_row(const char *name, const double *values, int n, const char *after) {
  printf("\"%s\":[", name);
  for (int i = 0; i < n; i++) {
    if (isnan(values[i])) printf("null");
    else printf("%.17g", values[i]);
    if (i + 1 < n) printf(",");
  }
  printf("]%s", after);
}

int main(int count, char **words) {
  if (count < 3) return 2;
  const int n = atoi(words[1]);
  const double budget_ns = 1e6 * atof(words[2]);
  double *angles = calloc(n, sizeof(double));
  for (int i = 0; i < n; i++) angles[i] = OPEN_DEG * i / (n - 1);
  Kinematics k;
  Table t;
  new_tables(n, angles, &k, &t);

  // batches of about a millisecond; the quickest counts, so that other work on the machine does not. What a run gives is
  // taken up, and the next one starts from another gas pressure, so that no run may be left out.
  const int batch = 1 + 5000 / n;
  const double full = plan.struts[0].full_mpa;
  double best_poses = INFINITY, best_both = INFINITY, best_new = INFINITY;
  volatile double sink = 0;
  for (double start = now_ns(); now_ns() - start < budget_ns;) {
    double from = now_ns();
    for (int r = 0; r < batch; r++) {
      kinematics(n, &plan, &k);
      sink += k.strut[0].arm[r % n];
    }
    double took = (now_ns() - from) / batch / n;
    if (took < best_poses) best_poses = took;
    from = now_ns();
    for (int r = 0; r < batch; r++) {
      plan.struts[0].full_mpa = full * (1 + 1e-3 * (r & 1));
      kinematics(n, &plan, &k);
      case_table(n, &plan, &k, &t);
      sink += t.hand_opening[r % n];
    }
    took = (now_ns() - from) / batch / n;
    if (took < best_both) best_both = took;
    double *kept = block;
    from = now_ns();
    for (int r = 0; r < batch; r++) {
      Kinematics fresh;
      Table into;
      plan.struts[0].full_mpa = full * (1 + 1e-3 * (r & 1));
      new_tables(n, angles, &fresh, &into);
      kinematics(n, &plan, &fresh);
      case_table(n, &plan, &fresh, &into);
      sink += into.hand_opening[r % n];
      free(block);
    }
    took = (now_ns() - from) / batch / n;
    if (took < best_new) best_new = took;
    block = kept;
  }
  plan.struts[0].full_mpa = full;
  kinematics(n, &plan, &k);
  case_table(n, &plan, &k, &t);

  printf("{\"posesNs\":%.17g,\"bothNs\":%.17g,\"newNs\":%.17g,\"sink\":%.17g,", best_poses, best_both, best_new, sink);
  print_row("weightMomentNm", t.weight, n, ",");
  print_row("openingMomentNm", t.opening, n, ",");
  print_row("closingMomentNm", t.closing, n, ",");
  print_row("handOpeningN", t.hand_opening, n, ",");
  print_row("handClosingN", t.hand_closing, n, ",");
  print_row("hingeAN", t.hinge_a, 3 * n, ",");
  print_row("hingeBN", t.hinge_b, 3 * n, ",");
  print_row("hingeAxialN", t.axial, n, ",\"struts\":[");
  for (int m = 0; m < STRUTS; m++) {
    printf("{");
    print_row("lengthMm", k.strut[m].length, n, ",");
    print_row("leverArmMm", k.strut[m].arm, n, ",");
    print_row("compressionMm", k.compression[m], n, ",");
    print_row("baseJointDeg", k.base_joint[m], n, ",");
    print_row("lidJointDeg", k.lid_joint[m], n, ",");
    print_row("balanceForceN", t.balance[m], n, ",");
    print_row("extendingN", t.extending[m], n, ",");
    print_row("compressingN", t.compressing[m], n, m + 1 < STRUTS ? "}," : "}],\"springs\":[");
  }
  for (int m = 0; m < COILS; m++) {
    printf("{");
    print_row("lengthMm", k.coil[m].length, n, ",");
    print_row("pushN", k.push[m], n, ",");
    print_row("momentNm", k.moment[m], n, m + 1 < COILS ? "}," : "}]}\n");
  }
  return 0;
}
