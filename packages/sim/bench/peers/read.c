/* Reads the scenario: one line `path value` each, as the bench has flattened it. */
#include "line.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ENTRIES = 8192, TEXT = 200, PATH = 2 * TEXT };

typedef struct {
  int count;
  char (*key)[TEXT], (*value)[TEXT];
} Table;

static void fail(const char *what, const char *which) {
  fprintf(stderr, "%s: %s\n", what, which);
  exit(2);
}

static const char *find(const Table *table, const char *key) {
  for (int k = 0; k < table->count; k++)
    if (strcmp(table->key[k], key) == 0) return table->value[k];
  return NULL;
}

static const char *text(const Table *table, const char *prefix, const char *key) {
  char path[PATH];
  snprintf(path, sizeof path, "%.150s%.200s", prefix, key);
  const char *value = find(table, path);
  if (value == NULL) fail("missing", path);
  return value;
}

static double number(const Table *table, const char *prefix, const char *key) {
  return atof(text(table, prefix, key));
}

static int has(const Table *table, const char *prefix, const char *key) {
  return strcmp(text(table, prefix, key), "null") != 0;
}

static int is(const char *a, const char *b) { return strcmp(a, b) == 0; }

/* What no case of the bench uses is not modelled here, and must not be there. */
static void refuse(const Table *table, const char *prefix, const char *key) {
  if (has(table, prefix, key)) fail("not modelled by this peer", key);
}

static int state(Line *line, const Table *table, const char *owner, const char *what, double scale) {
  int at = line->n++;
  snprintf(line->name[at], NAME, "%.80s%.14s", owner, what);
  line->scale[at] = scale;
  line->start[at] = number(table, "start.", line->name[at]);
  return at;
}

static void read_fuse(Line *line, const Table *t, const char *p, const char *owner, Fuse *f) {
  char path[PATH], name[16];
  f->R_cold = number(t, p, "coldResistance");
  f->k = number(t, p, "resistanceRatio");
  f->I_inf = number(t, p, "meltingCurrentAtAmbient");
  f->V_arc = number(t, p, "arcVoltage");
  f->I_ext = number(t, p, "extinctionCurrent");
  f->t_ext = number(t, p, "extinctionTime");
  f->stages = (int)number(t, p, "stages.length");
  f->theta = line->n;
  f->state = INTACT;
  for (int m = 0; m < f->stages; m++) {
    snprintf(path, sizeof path, "%.100sstages.%d.", p, m);
    f->w[m] = number(t, path, "weight");
    f->tau[m] = number(t, path, "timeConstant");
    snprintf(name, sizeof name, ".theta%d", m + 1);
    state(line, t, owner, name, 0.1);
  }
}

static void read_lead(Line *line, const Table *t, const char *p, const char *owner, Lead *lead) {
  char path[PATH], fuse[NAME + 8];
  snprintf(path, sizeof path, "%.100slead.", p);
  lead->L = number(t, path, "inductance");
  lead->R_wire = number(t, path, "resistance");
  lead->area = number(t, path, "copperArea");
  lead->tau_w = number(t, path, "thermalTimeConstant");
  refuse(t, path, "contact");
  lead->dT = state(line, t, owner, ".dT", 1);
  lead->has_fuse = has(t, path, "fuse");
  if (lead->has_fuse) {
    snprintf(path, sizeof path, "%.100slead.fuse.", p);
    snprintf(fuse, sizeof fuse, "%.80s fuse", owner);
    read_fuse(line, t, path, fuse, &lead->fuse);
  }
  lead->i = state(line, t, owner, ".i", 1);
}

static void read_battery(const Table *t, const char *p, Source *s) {
  char path[PATH];
  s->battery = 1;
  s->r = number(t, p, "internalResistance");
  s->capacity = number(t, p, "capacityAh");
  s->points = has(t, p, "emfTable") ? (int)number(t, p, "emfTable.length") : 0;
  if (s->points == 0) {
    s->points = 2;
    s->charge[1] = 1;
    s->emf[1] = number(t, p, "emfPerCharge");
  }
  for (int k = 0; has(t, p, "emfTable") && k < s->points; k++) {
    snprintf(path, sizeof path, "%.100semfTable.%d.", p, k);
    s->charge[k] = number(t, path, "charge");
    s->emf[k] = number(t, path, "emf");
  }
}

static void read_limit(const Table *t, const char *p, Source *s) {
  const char *style = text(t, p, "limit.style");
  static const char *const styles[] = {"none", "constant current", "foldback", "hiccup", "latch off"};
  for (s->style = NO_LIMIT; !is(style, styles[s->style]); s->style++)
    if (s->style == LATCH_OFF) fail("no such limit", style);
  if (s->style == NO_LIMIT) return;
  s->I_0 = number(t, p, "limit.current");
  s->I_sc = s->style == FOLDBACK ? number(t, p, "limit.shortCircuitCurrent") : s->I_0;
  if (s->style >= HICCUP) s->t_detect = number(t, p, "limit.detectionTime");
  if (s->style != HICCUP) return;
  s->t_off = number(t, p, "limit.offTime");
  s->t_ramp = number(t, p, "limit.rampTime");
}

static void read_supply(Line *line, const Table *t, const char *p, Source *s) {
  s->V_set = s->level = number(t, p, "setVoltage");
  s->R_s = number(t, p, "sourceResistance");
  s->tau_s = number(t, p, "responseTime");
  s->C = number(t, p, "outputCapacitance");
  s->r = number(t, p, "esr");
  s->R_bleed = number(t, p, "bleederResistance");
  refuse(t, p, "shutdown");
  refuse(t, p, "ownCrowbar");
  read_limit(t, p, s);
  const char *fault = text(t, p, "fault.kind");
  s->fault = is(fault, "none") ? NO_FAULT : is(fault, "shorted pass transistor") ? SHORTED : MOVES;
  if (s->fault == SHORTED) s->R_pass = number(t, p, "fault.passResistance");
  if (s->fault == MOVES) {
    s->slew = number(t, p, "fault.slew");
    s->V_end = number(t, p, is(fault, "lost feedback") ? "fault.ceilingVoltage" : "fault.endVoltage");
  }
  s->is = state(line, t, s->name, ".is", 1);
  s->has_reservoir = has(t, p, "reservoir");
  if (!s->has_reservoir) return;
  if (is(text(t, p, "reservoir.ripple"), "true")) fail("not modelled by this peer", "ripple");
  s->V_raw = number(t, p, "reservoir.rawVoltage");
  s->R_raw = number(t, p, "reservoir.rawResistance");
  s->C_res = number(t, p, "reservoir.capacitance");
  s->R_drop = number(t, p, "reservoir.dropOutResistance");
  s->u_res = state(line, t, s->name, ".vres", 1);
}

static void read_source(Line *line, const Table *t, int k) {
  Source *s = &line->source[k];
  char p[32];
  snprintf(p, sizeof p, "sources.%d.", k);
  snprintf(s->name, NAME, "%.80s", text(t, p, "name"));
  refuse(t, p, "diode");
  read_lead(line, t, p, s->name, &s->lead);
  const char *kind = text(t, p, "kind");
  if (is(kind, "panel")) fail("not modelled by this peer", kind);
  s->u = state(line, t, s->name, is(kind, "battery") ? ".vb" : ".vo", 1);
  if (is(kind, "battery")) {
    read_battery(t, p, s);
    while (s->piece < s->points - 2 && line->start[s->u] > s->emf[s->piece + 1]) s->piece++;
  } else read_supply(line, t, p, s);
}

static void read_load(Line *line, const Table *t, int k) {
  Load *l = &line->load[k];
  char p[32];
  snprintf(p, sizeof p, "loads.%d.", k);
  snprintf(l->name, NAME, "%.80s", text(t, p, "name"));
  refuse(t, p, "clamp");
  refuse(t, p, "dropOut");
  if (number(t, p, "schedule.length") > 0) fail("not modelled by this peer", "schedule");
  read_lead(line, t, p, l->name, &l->lead);
  l->u = state(line, t, l->name, ".vc", 1);
  l->C = number(t, p, "inputCapacitance");
  l->r = number(t, p, "esr");
  const char *kind = text(t, p, "kind");
  if (is(kind, "lamp")) fail("not modelled by this peer", kind);
  l->kind = is(kind, "resistive") ? RESISTIVE : is(kind, "constant current") ? CONSTANT_CURRENT_LOAD : CONSTANT_POWER;
  l->value = number(t, p, l->kind == RESISTIVE ? "resistance" : l->kind == CONSTANT_POWER ? "power" : "current");
  if (l->kind != RESISTIVE) l->V_knee = number(t, p, "kneeVoltage");
}

static void read_scr(Line *line, const Table *t) {
  static const char p[] = "crowbar.";
  Scr *scr = &line->scr;
  char path[PATH], name[16];
  scr->held = is(text(t, p, "variant"), "held");
  if (is(text(t, p, "variant"), "latched")) fail("not modelled by this peer", "latched");
  if (number(t, p, "latchingCurrent") > 0 || number(t, p, "stubResistance") > 0)
    fail("not modelled by this peer", "latching current, stub resistance");
  scr->V_trip = number(t, p, "tripVoltage");
  scr->tau_f = number(t, p, "senseTimeConstant");
  scr->t_gate = number(t, p, "gateDelay");
  scr->V_T0 = number(t, p, "thresholdVoltage");
  scr->r_T = number(t, p, "slopeResistance");
  scr->L = number(t, p, "inductance");
  scr->R_leak = number(t, p, "leakResistance");
  scr->I_H = number(t, p, "holdingCurrent");
  scr->t_q = number(t, p, "turnOffTime");
  scr->T_fail = number(t, p, "failTemperature");
  scr->T_amb = number(t, "", "ambient");
  int stages = (int)number(t, p, "junctionStages.length");
  for (int k = 0; k < stages; k++) {
    snprintf(path, sizeof path, "crowbar.junctionStages.%d.", k);
    scr->R[k] = number(t, path, "resistance");
    scr->tau[k] = number(t, path, "timeConstant");
  }
  scr->R[stages] = number(t, p, "caseToAmbient");
  scr->tau[stages] = scr->R[stages] * number(t, p, "caseHeatCapacity");
  scr->stages = stages + 1;
  scr->junction = line->n;
  for (int k = 0; k < scr->stages; k++) {
    snprintf(name, sizeof name, "dTj%d", k + 1);
    state(line, t, "", name, 1);
  }
  scr->vf = state(line, t, "", "vf", 1);
  scr->i = state(line, t, "", "i_scr", 1);
}

static void read_table(Table *t, const char *path) {
  FILE *file = fopen(path, "r");
  char row[TEXT];
  if (file == NULL) fail("cannot be read", path);
  t->key = calloc(MOST_ENTRIES, TEXT);
  t->value = calloc(MOST_ENTRIES, TEXT);
  while (t->count < MOST_ENTRIES && fgets(row, sizeof row, file)) {
    row[strcspn(row, "\n")] = 0;
    char *value = strchr(row, '\t');
    if (value == NULL) continue;
    *value++ = 0;
    strcpy(t->key[t->count], row);
    strcpy(t->value[t->count++], value);
  }
  fclose(file);
}

void read_line(Line *line, const char *path) {
  Table t = {0};
  read_table(&t, path);
  memset(line, 0, sizeof *line);
  if (!is(text(&t, "", "start of run"), "operating")) fail("not modelled by this peer", "start: dead");
  refuse(&t, "", "clamp");
  refuse(&t, "", "seriesSwitch");
  line->t_fault = number(&t, "", "faultTime");
  line->t_end = number(&t, "", "endTime");
  line->rtol = number(&t, "", "tolerance");
  line->n_sources = (int)number(&t, "", "sources.length");
  line->n_loads = (int)number(&t, "", "loads.length");
  if (line->n_sources > MOST_BRANCHES || line->n_loads > MOST_BRANCHES) fail("too many branches", path);
  for (int k = 0; k < line->n_sources; k++) read_source(line, &t, k);
  for (int k = 0; k < line->n_loads; k++) read_load(line, &t, k);
  line->has_scr = has(&t, "", "crowbar");
  if (line->has_scr) read_scr(line, &t);
  line->has_fuse = has(&t, "", "mainFuse");
  if (line->has_fuse) {
    read_fuse(line, &t, "mainFuse.", "main fuse", &line->fuse);
    line->C1 = number(&t, "nodes.supplySide.", "capacitance");
    line->r1 = number(&t, "nodes.supplySide.", "resistance");
    line->u1 = state(line, &t, "", "vC1", 1);
  }
  line->C2 = number(&t, "nodes.protectedSide.", "capacitance");
  line->r2 = number(&t, "nodes.protectedSide.", "resistance");
  line->u2 = state(line, &t, "", "vC2", 1);
  free(t.key);
  free(t.value);
}
