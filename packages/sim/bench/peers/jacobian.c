/* The exact derivatives of the rates in line.c. */
#include "line.h"

/* factor times the derivatives of v1 (end = 1), v2 (2) or the main fuse's current (0) */
static void hub(const Line *line, int end, int row, double factor, Add add, void *J) {
  const double *by = end == 1 ? line->by1 : end == 2 ? line->by2 : line->by_fuse;
  for (int k = 0; k < line->columns; k++) add(J, row, line->column[k], factor * by[k]);
}

static void own_fuse(const Fuse *f, Add add, void *J) {
  int intact = f->state == INTACT;
  for (int m = 0; m < f->stages; m++)
    for (int j = 0; j < f->stages; j++)
      add(J, f->theta + m, f->theta + j, (f->w[m] * f->q_by_theta - (intact && j == m)) / f->tau[m]);
}

static void lead_part(const Lead *lead, const double *y, Add add, void *J) {
  int conducts = !(lead->has_fuse && lead->fuse.state == OPEN);
  add(J, lead->i, lead->i, conducts ? -lead->R / lead->L : 0);
  add(J, lead->dT, lead->dT, -1 / lead->tau_w);
  add(J, lead->dT, lead->i, 2 * 5.0e-15 * y[lead->i] / (lead->area * lead->area));
  if (!lead->has_fuse) return;
  const Fuse *f = &lead->fuse;
  own_fuse(f, add, J);
  for (int m = 0; m < f->stages; m++) {
    add(J, f->theta + m, lead->i, f->w[m] * f->q_by_i / f->tau[m]);
    add(J, lead->i, f->theta + m, conducts ? -f->slope * y[lead->i] / lead->L : 0);
  }
}

void jacobian(Line *line, const double *y, Add add, void *J) {
  for (int k = 0; k < line->n_sources; k++) {
    const Source *s = &line->source[k];
    const Lead *lead = &s->lead;
    double q = s->battery ? 1 : 1 / (1 + s->r / s->R_bleed);
    double g = lead->has_fuse && lead->fuse.state == OPEN ? 0 : 1 / lead->L;
    lead_part(lead, y, add, J);
    hub(line, 1, lead->i, -g, add, J);
    add(J, lead->i, s->u, g * q);
    add(J, lead->i, lead->i, -g * s->r * q);
    add(J, s->u, s->u, (q - 1) / (s->r * s->C));
    add(J, s->u, lead->i, -q / s->C);
    if (s->battery) continue;
    add(J, lead->i, s->is, g * s->r * q);
    add(J, s->u, s->is, q / s->C);
    add(J, s->is, s->is, -1 / s->tau_s);
    add(J, s->is, s->u, s->by_u / s->tau_s);
    if (!s->has_reservoir) continue;
    add(J, s->is, s->u_res, s->by_res / s->tau_s);
    add(J, s->u_res, s->u_res, y[s->u_res] < s->V_raw ? -1 / (s->R_raw * s->C_res) : 0);
    add(J, s->u_res, s->is, -1 / s->C_res);
  }
  for (int k = 0; k < line->n_loads; k++) {
    const Load *l = &line->load[k];
    const Lead *lead = &l->lead;
    double g = lead->has_fuse && lead->fuse.state == OPEN ? 0 : 1 / lead->L;
    lead_part(lead, y, add, J);
    hub(line, 2, lead->i, g, add, J);
    add(J, lead->i, lead->i, -g * l->r);
    add(J, lead->i, l->u, -g * (1 - l->r * l->by_u));
    add(J, l->u, lead->i, 1 / l->C);
    add(J, l->u, l->u, -l->by_u / l->C);
  }
  if (line->has_fuse) {
    const Fuse *f = &line->fuse;
    own_fuse(f, add, J);
    for (int m = 0; m < f->stages; m++) hub(line, 0, f->theta + m, f->w[m] * f->q_by_i / f->tau[m], add, J);
    hub(line, 1, line->u1, 1 / (line->r1 * line->C1), add, J);
    add(J, line->u1, line->u1, -1 / (line->r1 * line->C1));
  }
  hub(line, 2, line->u2, 1 / (line->r2 * line->C2), add, J);
  add(J, line->u2, line->u2, -1 / (line->r2 * line->C2));
  if (!line->has_scr) return;
  const Scr *scr = &line->scr;
  hub(line, 2, scr->vf, 1 / scr->tau_f, add, J);
  add(J, scr->vf, scr->vf, -1 / scr->tau_f);
  hub(line, 2, scr->i, scr->forward ? 1 / scr->L : 0, add, J);
  add(J, scr->i, scr->i, scr->forward ? -scr->r_T / scr->L : 0);
  for (int k = 0; k < scr->stages; k++) {
    add(J, scr->junction + k, scr->junction + k, -1 / scr->tau[k]);
    add(J, scr->junction + k, scr->i, scr->R[k] * (scr->V_T0 + 2 * scr->r_T * y[scr->i]) / scr->tau[k]);
  }
}
