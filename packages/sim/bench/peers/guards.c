/* The guards and timers of the line's devices, and what they do. */
#include "machine.h"
#include <math.h>
#include <string.h>

/* A law idles at its corner without chatter where the corner is passed by so much (physics.md, section 14, 10). */
static double volt_band(const Machine *m) { return m->line->rtol; }
static double ampere_band(const Machine *m) { return 10 * m->line->rtol; }

static int plain(Machine *m, Value value, Action action, int who) { return add_guard(m, value, 1, action, who, 1, NONE); }

/* Sources */

static double overload(Machine *m, int k, const double *y) { return (void)y, demand(&m->line->source[k]) - m->line->source[k].I_0; }

static void trips(Machine *m, int k, double *y) {
  Source *s = &m->line->source[k];
  (void)y;
  log_event(m, s->name, "source", "limiter trips");
  s->phase = s->style == HICCUP ? OFF : LATCHED;
  hold_set(m, m->detect[k], 0);
  m->timer[m->ramp[k]].left = INFINITY;
  s->ramp_for = 0;
  if (s->style == HICCUP) m->timer[m->restart[k]].left = s->t_off;
}

static void restarts(Machine *m, int k, double *y) {
  Source *s = &m->line->source[k];
  (void)y;
  log_event(m, s->name, "source", "restarts");
  s->phase = RUNNING;
  s->ramp_for = s->t_ramp;
  s->ramp_at = 0;
  if (s->t_ramp > 0) m->timer[m->ramp[k]].left = s->t_ramp;
  hold_set(m, m->detect[k], !s->shorted);
}

static void ramp_ends(Machine *m, int k, double *y) { (void)y, m->line->source[k].ramp_for = 0; }

static void arrives(Machine *m, int k, double *y) {
  Source *s = &m->line->source[k];
  (void)y;
  s->level = s->V_end;
  s->rise = 0;
}

static void strikes(Machine *m, int who, double *y) {
  (void)who, (void)y;
  log_event(m, "", "line", "fault");
  for (int k = 0; k < m->line->n_sources; k++) {
    Source *s = &m->line->source[k];
    if (s->battery || s->fault == NO_FAULT) continue;
    if (s->fault == MOVES) {
      s->rise = s->V_end < s->level ? -s->slew : s->slew;
      m->timer[m->arrival[k]].left = fabs(s->V_end - s->level) / s->slew;
      continue;
    }
    s->shorted = 1;
    s->phase = RUNNING;
    m->timer[m->restart[k]].left = INFINITY;
    if (m->detect[k] != NONE) hold_set(m, m->detect[k], 0);
  }
}

static double beyond_piece(Machine *m, int k, const double *y) {
  const Source *s = &m->line->source[k];
  double u = y[s->u];
  double below = s->piece > 0 ? s->emf[s->piece] - u : -1;
  double above = s->piece < s->points - 2 ? u - s->emf[s->piece + 1] : -1;
  return fmax(below, above) - volt_band(m);
}

static void next_piece(Machine *m, int k, double *y) {
  Source *s = &m->line->source[k];
  s->piece = 0;
  while (s->piece < s->points - 2 && y[s->u] > s->emf[s->piece + 1]) s->piece++;
}

/* Fuses. Branches are counted through: sources, then loads. */

static Lead *lead_of(Line *line, int k) {
  return k < line->n_sources ? &line->source[k].lead : &line->load[k - line->n_sources].lead;
}

static const char *owner_of(const Line *line, int k) {
  return k < line->n_sources ? line->source[k].name : line->load[k - line->n_sources].name;
}

/* The stages keep their shares; their sum stays 1. */
static void melt(Fuse *f, double i, double *y) {
  double sum = theta_of(f, y);
  for (int k = 0; k < f->stages; k++) y[f->theta + k] /= sum;
  f->direction = i < 0 ? -1 : 1;
  f->state = CLEARING;
}

static double lead_melts_at(Machine *m, int k, const double *y) {
  const Fuse *f = &lead_of(m->line, k)->fuse;
  return f->state == INTACT ? theta_of(f, y) - 1 : -1;
}

static void lead_melts(Machine *m, int k, double *y) {
  Lead *lead = lead_of(m->line, k);
  log_event(m, owner_of(m->line, k), "in-line fuse", "melts");
  melt(&lead->fuse, y[lead->i], y);
}

static double lead_goes_out_at(Machine *m, int k, const double *y) {
  const Lead *lead = lead_of(m->line, k);
  return lead->fuse.state == CLEARING ? lead->fuse.I_ext - lead->fuse.direction * y[lead->i] : -1;
}

static void lead_goes_out(Machine *m, int k, double *y) {
  Lead *lead = lead_of(m->line, k);
  log_event(m, owner_of(m->line, k), "in-line fuse", "open");
  lead->fuse.state = OPEN;
  y[lead->i] = 0;
}

static double main_melts_at(Machine *m, int who, const double *y) {
  (void)who;
  return m->line->fuse.state == INTACT ? theta_of(&m->line->fuse, y) - 1 : -1;
}

static void main_melts(Machine *m, int who, double *y) {
  (void)who;
  log_event(m, "", "main fuse", "melts");
  melt(&m->line->fuse, m->line->i_fuse, y);
  hold_set(m, m->main_opening, 1);
}

static double main_goes_out_at(Machine *m, int who, const double *y) {
  (void)who, (void)y;
  return m->line->fuse.I_ext - m->line->fuse.direction * m->line->i_fuse;
}

static void main_opens(Machine *m, int who, double *y) {
  (void)who, (void)y;
  log_event(m, "", "main fuse", "open");
  m->line->fuse.state = OPEN;
}

/* The SCR */

static double sensed_above(Machine *m, int who, const double *y) {
  (void)who;
  return y[m->line->scr.vf] - m->line->scr.V_trip;
}

static void fires(Machine *m, int who, double *y) {
  Scr *scr = &m->line->scr;
  (void)who;
  log_event(m, "", "crowbar", "fires");
  m->quick = 1;
  y[scr->i] = 0;
  scr->conducting = scr->fired = 1;
  scr->forward = m->line->v2 > scr->V_T0;
  hold_set(m, m->turn_off, 1);
}

static double lets_go_at(Machine *m, int who, const double *y) {
  const Scr *scr = &m->line->scr;
  (void)who;
  double undriven = scr->held && scr->fired ? -1 : scr->V_trip - y[scr->vf];
  return fmin(scr->I_H - y[scr->i], undriven);
}

static void stops(Machine *m, int who, double *y) {
  Scr *scr = &m->line->scr;
  (void)who;
  log_event(m, "", "crowbar", "stops conducting");
  y[scr->i] = 0;
  scr->conducting = scr->forward = 0;
  hold_set(m, m->gate, 1);
}

static double reverses_at(Machine *m, int who, const double *y) {
  (void)who;
  return m->line->scr.forward ? -y[m->line->scr.i] - ampere_band(m) : -1;
}

static void reverses(Machine *m, int who, double *y) {
  (void)who;
  y[m->line->scr.i] = 0;
  m->line->scr.forward = 0;
}

static double resumes_at(Machine *m, int who, const double *y) {
  const Scr *scr = &m->line->scr;
  (void)who, (void)y;
  return scr->conducting && !scr->forward ? m->line->v2 - scr->V_T0 - volt_band(m) : -1;
}

static void resumes(Machine *m, int who, double *y) { (void)who, (void)y, m->line->scr.forward = 1; }

static double fails_at(Machine *m, int who, const double *y) {
  const Scr *scr = &m->line->scr;
  (void)who;
  double T = scr->T_amb;
  for (int k = 0; k < scr->stages; k++) T += y[scr->junction + k];
  return scr->failed ? -1 : T - scr->T_fail;
}

static void fails(Machine *m, int who, double *y) {
  (void)who, (void)y;
  log_event(m, "", "crowbar", "fails short");
  m->line->scr.failed = m->line->scr.conducting = 1;
  hold_set(m, m->turn_off, 0);
  hold_set(m, m->gate, 0);
}

void build(Machine *m, Line *line) {
  Event *event = m->event;
  memset(m, 0, sizeof *m);
  m->event = event;
  m->line = line;
  m->timer[add_timer(m, strikes, 0, NONE)].left = line->t_fault;
  for (int k = 0; k < line->n_sources; k++) {
    Source *s = &line->source[k];
    m->detect[k] = !s->battery && s->style >= HICCUP ? add_hold(m, overload, s->t_detect, trips, k) : NONE;
    m->restart[k] = add_timer(m, restarts, k, NONE);
    m->ramp[k] = add_timer(m, ramp_ends, k, NONE);
    m->arrival[k] = add_timer(m, arrives, k, NONE);
    if (m->detect[k] != NONE) hold_set(m, m->detect[k], 1);
    if (s->battery && s->points > 2) plain(m, beyond_piece, next_piece, k);
  }
  for (int k = 0; k < line->n_sources + line->n_loads; k++) {
    if (!lead_of(line, k)->has_fuse) continue;
    plain(m, lead_melts_at, lead_melts, k);
    plain(m, lead_goes_out_at, lead_goes_out, k);
  }
  if (line->has_fuse) {
    plain(m, main_melts_at, main_melts, 0);
    m->main_opening = add_hold(m, main_goes_out_at, line->fuse.t_ext, main_opens, 0);
  }
  if (!line->has_scr) return;
  m->gate = add_hold(m, sensed_above, line->scr.t_gate, fires, 0);
  m->turn_off = add_hold(m, lets_go_at, line->scr.t_q, stops, 0);
  hold_set(m, m->gate, 1);
  plain(m, reverses_at, reverses, 0);
  plain(m, resumes_at, resumes, 0);
  plain(m, fails_at, fails, 0);
}
