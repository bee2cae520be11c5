/*
 * The line of packages/sim/docs/physics.md as one system of ordinary differential equations: the star of supplies and
 * batteries, main fuse, SCR and loads. What no case of the bench uses is refused by read.c, not left out in silence.
 * SI units throughout.
 */
#ifndef LINE_H
#define LINE_H

enum { MOST_BRANCHES = 20, MOST_STAGES = 8, MOST_POINTS = 16, NAME = 96, NONE = -1 };

typedef enum { INTACT, CLEARING, OPEN } FuseState;
typedef enum { RUNNING, OFF, LATCHED } Phase;
typedef enum { NO_LIMIT, CONSTANT_CURRENT, FOLDBACK, HICCUP, LATCH_OFF } Style;
typedef enum { NO_FAULT, MOVES, SHORTED } Fault;
typedef enum { RESISTIVE, CONSTANT_CURRENT_LOAD, CONSTANT_POWER } LoadKind;

typedef struct {
  int stages, theta; /* theta: index of the first stage's state */
  double w[MOST_STAGES], tau[MOST_STAGES], R_cold, k, I_inf, V_arc, I_ext, t_ext;
  FuseState state;
  int direction;
  double R, slope, q, q_by_i, q_by_theta; /* of the state last looked at */
} Fuse;

typedef struct {
  double L, R_wire, area, tau_w;
  int i, dT, has_fuse;
  Fuse fuse;
  double R, arc; /* of the state last looked at */
} Lead;

typedef struct {
  char name[NAME];
  int battery, u, is, u_res;
  Lead lead;
  double C, r, R_bleed, R_s, tau_s, V_set;
  Style style;
  double I_0, I_sc, t_detect, t_off, t_ramp;
  int has_reservoir;
  double V_raw, R_raw, C_res, R_drop;
  Fault fault;
  double V_end, slew, R_pass;
  int points, piece; /* a battery: its EMF over its charge */
  double capacity;
  double charge[MOST_POINTS], emf[MOST_POINTS];
  Phase phase;
  int shorted;
  double level, rise, ramp_for, ramp_at; /* the voltage aimed at, at the start of the segment */
  double v, target, by_u, by_res, aimed; /* of the state last looked at */
} Source;

typedef struct {
  char name[NAME];
  LoadKind kind;
  int u;
  Lead lead;
  double C, r, value, V_knee;
  double v, drawn, by_u; /* of the state last looked at */
} Load;

typedef struct {
  int held, i, vf, junction, stages;
  double V_trip, tau_f, t_gate, V_T0, r_T, L, R_leak, I_H, t_q, T_fail, T_amb;
  double R[MOST_STAGES], tau[MOST_STAGES];
  int conducting, forward, fired, failed;
} Scr;

typedef struct {
  int n, n_sources, n_loads, has_fuse, has_scr;
  char name[256][NAME];
  double scale[256], start[256];
  double C1, r1, C2, r2;
  int u1, u2;
  Source source[MOST_BRANCHES];
  Load load[MOST_BRANCHES];
  Fuse fuse;
  Scr scr;
  double t_fault, t_end, rtol;
  double v1, v2, i_fuse, g_leak; /* of the state last looked at */
  /* What the hub's voltages and the fuse's current depend on. */
  int columns, column[3 * MOST_BRANCHES];
  double by1[3 * MOST_BRANCHES], by2[3 * MOST_BRANCHES], by_fuse[3 * MOST_BRANCHES];
} Line;

/* read.c: the whole scenario, flattened to lines `path value`. Ends the program where something is not as it must be. */
void read_line(Line *line, const char *path);

/* line.c */
void look(Line *line, double t, const double *y);
void rates(const Line *line, const double *y, double *out);
typedef void (*Add)(void *matrix, int row, int column, double value);
/* The exact Jacobian of what was looked at last; every place that may ever be filled is added to, if only by 0. */
void jacobian(Line *line, const double *y, Add add, void *matrix);
double demand(const Source *source);
double theta_of(const Fuse *fuse, const double *y);

/* flows.c: the rates of the integrals that a run keeps */
int flow_count(const Line *line);
void flows(const Line *line, const double *y, double *out);
void flow_name(const Line *line, int index, char *out);

#endif
