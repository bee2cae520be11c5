/* How guards, timers and holds act on each other; nothing here knows of a line's devices. */
#include "machine.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

void log_event(Machine *m, const char *owner, const char *part, const char *what) {
  if (m->events == MOST_EVENTS) exit(3);
  Event *event = &m->event[m->events++];
  event->time = m->base;
  event->since = m->base - m->last;
  m->last = m->base;
  m->quick = 0;
  snprintf(event->what, sizeof event->what, "%s/%s: %s", owner, part, what);
}

int add_guard(Machine *m, Value value, double sign, Action action, int who, int active, int hold) {
  m->guard[m->guards] = (Guard){value, action, who, active, hold, sign};
  return m->guards++;
}

int add_timer(Machine *m, Action action, int who, int hold) {
  m->timer[m->timers] = (Timer){action, who, hold, INFINITY};
  return m->timers++;
}

int add_hold(Machine *m, Value value, double delay, Action action, int who) {
  int at = m->holds++;
  m->hold[at].guard = add_guard(m, value, 1, NULL, who, 0, at);
  add_guard(m, value, -1, NULL, who, 0, at);
  m->hold[at].timer = add_timer(m, action, who, at);
  m->hold[at].delay = delay;
  return at;
}

void hold_set(Machine *m, int at, int enabled) {
  m->timer[m->hold[at].timer].left = INFINITY;
  m->guard[m->hold[at].guard].active = enabled;
  m->guard[m->hold[at].guard + 1].active = 0;
}

double guard_value(Machine *m, int at, const double *y) {
  const Guard *guard = &m->guard[at];
  return guard->active ? guard->sign * guard->value(m, guard->who, y) : -1;
}

double next_timer(const Machine *m) {
  double next = INFINITY;
  for (int k = 0; k < m->timers; k++) next = fmin(next, m->timer[k].left);
  return next;
}

void shift(Machine *m, double elapsed) {
  m->base += elapsed;
  for (int k = 0; k < m->timers; k++) m->timer[k].left -= elapsed;
  for (int k = 0; k < m->line->n_sources; k++) {
    m->line->source[k].level += m->line->source[k].rise * elapsed;
    m->line->source[k].ramp_at += elapsed;
  }
}

static void guard_acts(Machine *m, int at, double *y) {
  Guard *guard = &m->guard[at];
  if (guard->hold == NONE) {
    guard->action(m, guard->who, y);
    return;
  }
  Hold *hold = &m->hold[guard->hold];
  int met = at == hold->guard;
  m->guard[hold->guard].active = !met;
  m->guard[hold->guard + 1].active = met;
  m->timer[hold->timer].left = met ? hold->delay : INFINITY;
}

static void timer_acts(Machine *m, int at, double *y) {
  Timer *timer = &m->timer[at];
  timer->left = INFINITY;
  if (timer->hold != NONE) hold_set(m, timer->hold, 0);
  timer->action(m, timer->who, y);
}

void settle(Machine *m, double *y) {
  for (int round = 0; round < 200; round++) {
    look(m->line, 0, y);
    int acted = 0;
    for (int k = 0; k < m->guards && !acted; k++)
      if (guard_value(m, k, y) > 0) guard_acts(m, k, y), acted = 1;
    for (int k = 0; k < m->timers && !acted; k++) {
      if (m->timer[k].left <= 0) timer_acts(m, k, y), acted = 1;
    }
    if (!acted) return;
  }
  fprintf(stderr, "the modes do not settle at %.17g s\n", m->base);
  exit(3);
}

void act(Machine *m, int met, double *y) {
  /* Timers meant for one instant may differ by the rounding of the time since they were started. */
  double slack = 1e-18 + 4e-16 * m->base;
  look(m->line, 0, y);
  for (int k = 0; k < m->timers; k++)
    if (m->timer[k].left <= slack) timer_acts(m, k, y);
  if (met != NONE && m->guard[met].active) guard_acts(m, met, y);
  settle(m, y);
}
