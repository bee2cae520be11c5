/* What is integrated over a run (physics.md, section 10): squared currents, energies fed and turned to heat. */
#include "line.h"
#include <math.h>
#include <stdio.h>

int flow_count(const Line *line) {
  return 3 * line->n_sources + 3 * line->n_loads + (line->has_fuse ? 2 : 0) + (line->has_scr ? 3 : 0) + 3;
}

static double squared(double x) { return x * x; }

static double lead_heat(const Lead *lead, double i) { return i * (lead->R * i + lead->arc); }

void flows(const Line *line, const double *y, double *out) {
  double fed = 0, turned = 0;
  for (int k = 0; k < line->n_sources; k++) {
    const Source *s = &line->source[k];
    double i = y[s->lead.i];
    double p = s->battery ? y[s->u] * i : s->v * (y[s->is] - s->v / s->R_bleed);
    *out++ = i * i;
    *out++ = squared(s->v - y[s->u]) / s->r;
    *out++ = lead_heat(&s->lead, i);
    fed += p;
    turned += fabs(p);
  }
  for (int k = 0; k < line->n_loads; k++) {
    const Load *l = &line->load[k];
    double i = y[l->lead.i];
    *out++ = i * i;
    *out++ = squared(l->v - y[l->u]) / l->r + l->v * l->drawn;
    *out++ = lead_heat(&l->lead, i);
  }
  if (line->has_fuse) {
    *out++ = squared(line->i_fuse);
    *out++ = line->i_fuse * (line->v1 - line->v2);
  }
  if (line->has_scr) {
    double i = y[line->scr.i], P = (line->scr.V_T0 + line->scr.r_T * i) * i;
    *out++ = i * i;
    *out++ = P;
    *out++ = P + line->g_leak * squared(line->v2);
  }
  *out = squared(line->v2 - y[line->u2]) / line->r2;
  if (line->has_fuse) *out += squared(line->v1 - y[line->u1]) / line->r1;
  *++out = fed;
  *++out = turned;
}

void flow_name(const Line *line, int index, char *out) {
  static const char *const branch[] = {"I2t of %s lead", "heat of %s", "heat of %s lead"};
  int branches = line->n_sources + line->n_loads, k = index / 3;
  if (k < branches) {
    const char *name = k < line->n_sources ? line->source[k].name : line->load[k - line->n_sources].name;
    snprintf(out, 2 * NAME, branch[index % 3], name);
    return;
  }
  static const char *const rest[] = {"I2t of main fuse",      "heat of main fuse", "I2t of crowbar",
                                     "heat of junction",      "heat of crowbar",   "heat of line capacitors",
                                     "fed",                   "turned over"};
  index -= 3 * branches;
  if (!line->has_fuse) index += 2;
  if (!line->has_scr && index > 1) index += 3;
  snprintf(out, 2 * NAME, "%s", rest[index]);
}
