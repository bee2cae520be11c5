/* Changes of mode: guards (conditions found as roots), timers, and what they do (physics.md, sections 2 to 5). */
#ifndef MACHINE_H
#define MACHINE_H
#include "line.h"

enum { MOST_GUARDS = 160, MOST_TIMERS = 120, MOST_EVENTS = 200000 };

typedef struct Machine Machine;
typedef double (*Value)(Machine *machine, int who, const double *y);
typedef void (*Action)(Machine *machine, int who, double *y);

/* Met where the value, with its sign, is above 0. Of a hold ("without a break for a time") there are two, of opposite sign. */
typedef struct {
  Value value;
  Action action;
  int who, active, hold;
  double sign;
} Guard;

typedef struct {
  Action action;
  int who, hold;
  double left;
} Timer;

typedef struct {
  int guard, timer;
  double delay;
} Hold;

typedef struct {
  double time, since;
  char what[2 * NAME];
} Event;

struct Machine {
  Line *line;
  int guards, timers, holds, events, quick;
  double base, last;
  Guard guard[MOST_GUARDS];
  Timer timer[MOST_TIMERS];
  Hold hold[MOST_GUARDS];
  Event *event;
  int gate, turn_off, main_opening, detect[MOST_BRANCHES], restart[MOST_BRANCHES], ramp[MOST_BRANCHES], arrival[MOST_BRANCHES];
};

/* machine.c, for guards.c */
void log_event(Machine *machine, const char *owner, const char *part, const char *what);
int add_guard(Machine *machine, Value value, double sign, Action action, int who, int active, int hold);
int add_timer(Machine *machine, Action action, int who, int hold);
int add_hold(Machine *machine, Value value, double delay, Action action, int who);
void hold_set(Machine *machine, int at, int enabled);

/* guards.c */
void build(Machine *machine, Line *line);
/* machine.c */
/* A segment of this length is over: what is explicit in time goes on from 0. */
void shift(Machine *machine, double elapsed);
double next_timer(const Machine *machine);
/* Timers that ran out act; then guards above 0 until nothing changes. `met`: the root search found it (or NONE). */
void act(Machine *machine, int met, double *y);
void settle(Machine *machine, double *y);
double guard_value(Machine *machine, int guard, const double *y);

#endif
