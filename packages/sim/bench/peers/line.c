/* The equations of packages/sim/docs/physics.md, sections 1 to 5 and 8, and their exact Jacobian. */
#include "line.h"
#include <math.h>

static double positive(double x) { return x > 0 ? x : 0; }

double theta_of(const Fuse *fuse, const double *y) {
  double sum = 0;
  for (int m = 0; m < fuse->stages; m++) sum += y[fuse->theta + m];
  return sum;
}

/* theta = 1 from melting on; R_fuse = R_cold rho(theta). */
static void look_at_fuse(Fuse *fuse, const double *y) {
  int melted = fuse->state != INTACT;
  double theta = melted ? 1 : theta_of(fuse, y);
  fuse->R = fuse->R_cold * (1 + (fuse->k - 1) * theta);
  fuse->slope = melted ? 0 : fuse->R_cold * (fuse->k - 1);
}

/* q = (i/I_inf)^2 rho(theta)/rho(1) */
static void load_fuse(Fuse *fuse, const double *y, double i) {
  double rho = 1 + (fuse->k - 1) * theta_of(fuse, y), x = i / fuse->I_inf;
  int melted = fuse->state != INTACT;
  fuse->q = melted ? 0 : x * x * rho / fuse->k;
  fuse->q_by_i = melted ? 0 : 2 * x / fuse->I_inf * rho / fuse->k;
  fuse->q_by_theta = melted ? 0 : x * x * (fuse->k - 1) / fuse->k;
}

static void look_at_lead(Lead *lead, const double *y) {
  lead->R = lead->R_wire;
  lead->arc = 0;
  if (!lead->has_fuse) return;
  look_at_fuse(&lead->fuse, y);
  load_fuse(&lead->fuse, y, y[lead->i]);
  lead->R += lead->fuse.R;
  if (lead->fuse.state == CLEARING) lead->arc = lead->fuse.direction * lead->fuse.V_arc;
}

double demand(const Source *source) { return source->aimed; }

/* i* = [min((e - u)/R_s, limit, (u_res - u)/R_drop)]+ or, shorted, [(u_res - u)/R_pass]+ */
static void look_at_regulator(Source *s, double t, const double *y) {
  double u = y[s->u], e = s->level + s->rise * t;
  if (s->ramp_for > 0) e *= (s->ramp_at + t) / s->ramp_for;
  s->aimed = (e - u) / s->R_s;
  s->target = s->by_u = s->by_res = 0;
  if (s->phase != RUNNING) return;
  if (s->shorted) {
    s->target = (y[s->u_res] - u) / s->R_pass;
    s->by_res = 1 / s->R_pass;
    s->by_u = -s->by_res;
  } else {
    s->target = s->aimed;
    s->by_u = -1 / s->R_s;
    if (s->style != NO_LIMIT) {
      double share = fmin(1, positive(u / s->V_set)), limit = s->I_sc + (s->I_0 - s->I_sc) * share;
      if (limit < s->target) {
        s->target = limit;
        s->by_u = share > 0 && share < 1 ? (s->I_0 - s->I_sc) / s->V_set : 0;
      }
    }
    if (s->has_reservoir && (y[s->u_res] - u) / s->R_drop < s->target) {
      s->target = (y[s->u_res] - u) / s->R_drop;
      s->by_res = 1 / s->R_drop;
      s->by_u = -s->by_res;
    }
  }
  if (s->target <= 0) s->target = s->by_u = s->by_res = 0;
}

static void look_at_source(Source *s, double t, const double *y) {
  double i = y[s->lead.i];
  look_at_lead(&s->lead, y);
  if (s->battery) {
    int p = s->piece;
    s->C = 3600 * s->capacity * (s->charge[p + 1] - s->charge[p]) / (s->emf[p + 1] - s->emf[p]);
    s->v = y[s->u] - s->r * i;
    return;
  }
  look_at_regulator(s, t, y);
  s->v = (y[s->u] + s->r * (y[s->is] - i)) / (1 + s->r / s->R_bleed);
}

static void look_at_load(Load *l, const double *y) {
  double u = y[l->u];
  look_at_lead(&l->lead, y);
  if (l->kind == RESISTIVE) l->drawn = u / l->value, l->by_u = 1 / l->value;
  else if (l->kind == CONSTANT_CURRENT_LOAD) {
    int below = u < l->V_knee;
    l->by_u = below ? l->value / l->V_knee : 0;
    l->drawn = below ? u * l->by_u : l->value;
  } else {
    int below = u < l->V_knee;
    l->by_u = below ? l->value / (l->V_knee * l->V_knee) : -l->value / (u * u);
    l->drawn = below ? u * l->by_u : l->value / u;
  }
  l->v = u + l->r * (y[l->lead.i] - l->drawn);
}

static void column(Line *line, int state, double by1, double by2, double by_fuse) {
  int k = line->columns++;
  line->column[k] = state;
  line->by1[k] = by1;
  line->by2[k] = by2;
  line->by_fuse[k] = by_fuse;
}

/* v = u + r J at both ends of the main fuse, its current between them; and what they depend on. */
static void look_at_hub(Line *line, const double *y) {
  Fuse *f = &line->fuse;
  double J_s = 0, J_l = 0, i_scr = line->has_scr ? y[line->scr.i] : 0;
  for (int k = 0; k < line->n_sources; k++) J_s += y[line->source[k].lead.i];
  for (int k = 0; k < line->n_loads; k++) J_l += y[line->load[k].lead.i];
  line->g_leak = line->has_scr && !line->scr.conducting ? 1 / line->scr.R_leak : 0;
  double D = 1 / line->r2 + line->g_leak, N = y[line->u2] / line->r2 - J_l - i_scr, G = 0, r1 = line->r1;
  line->columns = 0;
  if (!line->has_fuse) {
    line->v1 = line->v2 = (N + J_s) / D;
    for (int k = 0; k < line->n_sources; k++) column(line, line->source[k].lead.i, 1 / D, 1 / D, 0);
    for (int k = 0; k < line->n_loads; k++) column(line, line->load[k].lead.i, -1 / D, -1 / D, 0);
    if (line->has_scr) column(line, line->scr.i, -1 / D, -1 / D, 0);
    column(line, line->u2, 1 / (line->r2 * D), 1 / (line->r2 * D), 0);
    return;
  }
  look_at_fuse(f, y);
  double a1 = y[line->u1] + r1 * J_s, E = f->state == CLEARING ? f->direction * f->V_arc : 0;
  int conducts = f->state == INTACT || (f->state == CLEARING && f->direction * (a1 - N / D) > f->V_arc);
  if (conducts) G = 1 / (r1 + f->R);
  D += G;
  line->v2 = (N + G * (a1 - E)) / D;
  line->i_fuse = G * (a1 - E - line->v2);
  line->v1 = a1 - r1 * line->i_fuse;
  load_fuse(f, y, line->i_fuse);
  double P = G * (1 - G / D); /* current through the fuse for a volt before it */
  for (int k = 0; k < line->n_sources; k++)
    column(line, line->source[k].lead.i, r1 - r1 * r1 * P, G * r1 / D, r1 * P);
  for (int k = 0; k < line->n_loads; k++) column(line, line->load[k].lead.i, -r1 * G / D, -1 / D, G / D);
  if (line->has_scr) column(line, line->scr.i, -r1 * G / D, -1 / D, G / D);
  column(line, line->u1, 1 - r1 * P, G / D, P);
  column(line, line->u2, r1 * G / (line->r2 * D), 1 / (line->r2 * D), -G / (line->r2 * D));
  for (int m = 0; m < f->stages; m++) {
    double by = -line->i_fuse * f->slope;
    column(line, f->theta + m, -r1 * P * by, G / D * by, P * by);
  }
}

void look(Line *line, double t, const double *y) {
  for (int k = 0; k < line->n_sources; k++) look_at_source(&line->source[k], t, y);
  for (int k = 0; k < line->n_loads; k++) look_at_load(&line->load[k], y);
  look_at_hub(line, y);
}

static void fuse_rates(const Fuse *f, const double *y, double *out) {
  for (int m = 0; m < f->stages; m++)
    out[f->theta + m] = f->state == INTACT ? (f->w[m] * f->q - y[f->theta + m]) / f->tau[m] : 0;
}

/* L i' = v_from - v_to - R i - arcs; dT' = kappa (i/A)^2 - dT/tau */
static void lead_rates(const Lead *lead, double drop, const double *y, double *out) {
  double i = y[lead->i], density = i / lead->area;
  int open = lead->has_fuse && lead->fuse.state == OPEN;
  out[lead->i] = open ? 0 : (drop - lead->arc - lead->R * i) / lead->L;
  out[lead->dT] = 5.0e-15 * density * density - y[lead->dT] / lead->tau_w;
  if (lead->has_fuse) fuse_rates(&lead->fuse, y, out);
}

void rates(const Line *line, const double *y, double *out) {
  for (int k = 0; k < line->n_sources; k++) {
    const Source *s = &line->source[k];
    lead_rates(&s->lead, s->v - line->v1, y, out);
    out[s->u] = (s->v - y[s->u]) / (s->r * s->C);
    if (s->battery) continue;
    out[s->is] = (s->target - y[s->is]) / s->tau_s;
    if (s->has_reservoir) out[s->u_res] = (positive(s->V_raw - y[s->u_res]) / s->R_raw - y[s->is]) / s->C_res;
  }
  for (int k = 0; k < line->n_loads; k++) {
    const Load *l = &line->load[k];
    lead_rates(&l->lead, line->v2 - l->v, y, out);
    out[l->u] = (y[l->lead.i] - l->drawn) / l->C;
  }
  if (line->has_fuse) {
    fuse_rates(&line->fuse, y, out);
    out[line->u1] = (line->v1 - y[line->u1]) / (line->r1 * line->C1);
  }
  out[line->u2] = (line->v2 - y[line->u2]) / (line->r2 * line->C2);
  if (!line->has_scr) return;
  const Scr *scr = &line->scr;
  double i = y[scr->i], P = (scr->V_T0 + scr->r_T * i) * i;
  out[scr->vf] = (line->v2 - y[scr->vf]) / scr->tau_f;
  out[scr->i] = scr->forward ? (line->v2 - scr->V_T0 - scr->r_T * i) / scr->L : 0;
  for (int k = 0; k < scr->stages; k++)
    out[scr->junction + k] = (scr->R[k] * P - y[scr->junction + k]) / scr->tau[k];
}
