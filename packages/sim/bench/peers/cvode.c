/*
 * A run by SUNDIALS CVODE: BDF with stability-limit detection, exact Jacobian, root search, a new start (CVodeReInit) at
 * each event in local time, tolerances per state. Integrals by the three-point Gauss rule on its interpolant, apart from
 * the error control, as in the simulator: CVODES' own quadratures cost as much, and without error control were wrong in
 * the third digit.
 *
 *   cvode FILE --repeat 9 --solver dense|klu --order 5 --first automatic|hint
 */
#include "machine.h"
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sundials/sundials_version.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunmatrix/sunmatrix_sparse.h>
#include <sys/resource.h>
#include <time.h>
#ifdef WITH_KLU
#include <sunlinsol/sunlinsol_klu.h>
#endif

enum { MOST = 256 };

typedef struct {
  Machine machine;
  Line line;
  int sparse, order, hint, place[MOST][MOST]; /* of each entry of the Jacobian in the sparse matrix */
  long steps, evaluations, jacobians, factorizations, rejected;
  double work[MOST], total[MOST], last_step;
  SUNContext context;
  N_Vector between;
} Run;

static void check(int flag, const char *what) {
  if (flag >= 0) return;
  fprintf(stderr, "%s failed with %d\n", what, flag);
  exit(3);
}

static int f(realtype t, N_Vector y, N_Vector out, void *data) {
  Run *run = data;
  look(&run->line, t, NV_DATA_S(y));
  rates(&run->line, NV_DATA_S(y), NV_DATA_S(out));
  return 0;
}

static int roots(realtype t, N_Vector y, realtype *g, void *data) {
  Run *run = data;
  look(&run->line, t, NV_DATA_S(y));
  for (int k = 0; k < run->machine.guards; k++) g[k] = guard_value(&run->machine, k, NV_DATA_S(y));
  return 0;
}

static void add_dense(void *matrix, int row, int column, double value) {
  SUNMatrix J = matrix;
  SM_ELEMENT_D(J, row, column) += value;
}

typedef struct {
  int (*place)[MOST];
  double *values;
} Sparse;

static void add_sparse(void *matrix, int row, int column, double value) {
  Sparse *sparse = matrix;
  sparse->values[sparse->place[row][column]] += value;
}

static void mark(void *matrix, int row, int column, double value) {
  (void)value;
  ((int(*)[MOST])matrix)[row][column] = 1;
}

static int jac(realtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *data, N_Vector a, N_Vector b, N_Vector c) {
  Run *run = data;
  (void)fy, (void)a, (void)b, (void)c;
  look(&run->line, t, NV_DATA_S(y));
  if (!run->sparse) {
    jacobian(&run->line, NV_DATA_S(y), add_dense, J); /* comes zeroed */
    return 0;
  }
  Sparse sparse = {run->place, SM_DATA_S(J)};
  int n = run->line.n, used = 0;
  /* The matrix that comes is a plain one: its pattern is written again. */
  for (int column = 0; column < n; column++) {
    SM_INDEXPTRS_S(J)[column] = used;
    for (int row = 0; row < n; row++)
      if (run->place[row][column] >= 0) SM_INDEXVALS_S(J)[used++] = row;
  }
  SM_INDEXPTRS_S(J)[n] = used;
  memset(sparse.values, 0, used * sizeof(double));
  jacobian(&run->line, NV_DATA_S(y), add_sparse, &sparse);
  return 0;
}

static int find_pattern(Run *run, const double *y) {
  int n = run->line.n, used = 0;
  memset(run->place, 0, sizeof run->place);
  look(&run->line, 0, y);
  jacobian(&run->line, y, mark, run->place);
  for (int k = 0; k < n; k++) run->place[k][k] = 1;
  for (int column = 0; column < n; column++)
    for (int row = 0; row < n; row++) run->place[row][column] = run->place[row][column] ? used++ : -1;
  return used;
}

static void count(Run *run, void *cvode) {
  long steps, evaluations, setups, errors, failures, jacobians;
  check(CVodeGetNumSteps(cvode, &steps), "CVodeGetNumSteps");
  CVodeGetNumRhsEvals(cvode, &evaluations);
  CVodeGetNumLinSolvSetups(cvode, &setups);
  CVodeGetNumErrTestFails(cvode, &errors);
  CVodeGetNumNonlinSolvConvFails(cvode, &failures);
  CVodeGetNumJacEvals(cvode, &jacobians);
  run->steps += steps;
  run->evaluations += evaluations;
  run->factorizations += setups;
  run->rejected += errors + failures;
  run->jacobians += jacobians;
}

/* Nothing is to come and nothing moves any more (physics.md, section 9). */
static int at_rest(Run *run, double t, const double *y) {
  double left = run->line.t_end - run->machine.base - t;
  if (next_timer(&run->machine) < INFINITY || !(left > 0)) return 0;
  look(&run->line, t, y);
  rates(&run->line, y, run->work);
  for (int k = 0; k < run->line.n; k++)
    if (!(fabs(run->work[k]) * left < 1e-6 * fmax(fabs(y[k]), run->line.scale[k]))) return 0;
  return 1;
}

static void absorb(Run *run, void *cvode, double from, double to) {
  static const double place[] = {0.11270166537925831, 0.5, 0.88729833462074169}, weight[] = {5.0 / 18, 8.0 / 18, 5.0 / 18};
  double h = to - from;
  for (int k = 0; k < 3; k++) {
    check(CVodeGetDky(cvode, from + place[k] * h, 0, run->between), "CVodeGetDky");
    look(&run->line, from + place[k] * h, NV_DATA_S(run->between));
    flows(&run->line, NV_DATA_S(run->between), run->work);
    for (int j = 0; j < flow_count(&run->line); j++) run->total[j] += h * weight[k] * run->work[j];
  }
}

static int segment(Run *run, void *cvode, N_Vector y, double limit, double *t, int *met) {
  double from = 0;
  int since = 0, found[MOST_GUARDS];
  Machine *m = &run->machine;
  check(CVodeReInit(cvode, 0, y), "CVodeReInit");
  CVodeSetInitStep(cvode, run->hint ? fmin(limit, m->quick ? 1e-8 : 0.1 * run->last_step) : 0);
  check(CVodeSetStopTime(cvode, limit), "CVodeSetStopTime");
  *met = NONE;
  for (;;) {
    int flag = CVode(cvode, limit, y, t, CV_ONE_STEP);
    check(flag, "CVode");
    if (flag == CV_ROOT_RETURN) {
      CVodeGetRootInfo(cvode, found);
      for (int k = m->guards - 1; k >= 0; k--)
        if (found[k] > 0) *met = k;
    }
    absorb(run, cvode, from, *t);
    from = *t;
    int rest = flag == CV_SUCCESS && ++since % 8 == 0 && at_rest(run, *t, NV_DATA_S(y));
    if (flag == CV_SUCCESS && !rest) continue;
    CVodeGetLastStep(cvode, &run->last_step);
    count(run, cvode);
    return rest;
  }
}

static void go(Run *run, const Line *fresh) {
  run->line = *fresh;
  Line *line = &run->line;
  Machine *m = &run->machine;
  build(m, line);
  run->steps = run->evaluations = run->jacobians = run->factorizations = run->rejected = 0;
  memset(run->total, 0, sizeof run->total);
  run->last_step = 1e-5;
  int n = line->n;
  N_Vector y = N_VNew_Serial(n, run->context), tolerance = N_VNew_Serial(n, run->context);
  run->between = N_VNew_Serial(n, run->context);
  for (int k = 0; k < n; k++) {
    NV_Ith_S(y, k) = line->start[k];
    NV_Ith_S(tolerance, k) = line->rtol * line->scale[k];
  }
  void *cvode = CVodeCreate(CV_BDF, run->context);
  check(CVodeInit(cvode, f, 0, y), "CVodeInit");
  check(CVodeSVtolerances(cvode, line->rtol, tolerance), "CVodeSVtolerances");
  CVodeSetUserData(cvode, run);
  SUNMatrix J = run->sparse ? SUNSparseMatrix(n, n, find_pattern(run, line->start), CSC_MAT, run->context)
                            : SUNDenseMatrix(n, n, run->context);
#ifdef WITH_KLU
  SUNLinearSolver solver = run->sparse ? SUNLinSol_KLU(y, J, run->context) : SUNLinSol_Dense(y, J, run->context);
#else
  SUNLinearSolver solver = SUNLinSol_Dense(y, J, run->context);
#endif
  check(CVodeSetLinearSolver(cvode, solver, J), "CVodeSetLinearSolver");
  check(CVodeSetJacFn(cvode, jac), "CVodeSetJacFn");
  CVodeSetMaxOrd(cvode, run->order);
  CVodeSetStabLimDet(cvode, SUNTRUE);
  CVodeSetMaxNumSteps(cvode, -1);
  check(CVodeRootInit(cvode, m->guards, roots), "CVodeRootInit");
  int up[MOST_GUARDS];
  for (int k = 0; k < m->guards; k++) up[k] = 1;
  CVodeSetRootDirection(cvode, up);
  CVodeSetNoInactiveRootWarn(cvode);

  settle(m, NV_DATA_S(y));
  for (;;) {
    double left = line->t_end - m->base, timer = next_timer(m), t = 0;
    double limit = timer <= left + 1e-13 * line->t_end ? timer : left;
    int met = NONE, rest = 0;
    if (limit > 0) rest = segment(run, cvode, y, limit, &t, &met);
    shift(m, t);
    if (rest) {
      look(line, 0, NV_DATA_S(y));
      flows(line, NV_DATA_S(y), run->work);
      for (int k = 0; k < flow_count(line); k++) run->total[k] += run->work[k] * (left - t);
      break;
    }
    if (met == NONE && t >= limit && limit == left && timer > limit) break;
    act(m, met, NV_DATA_S(y));
  }
  memcpy(run->work, NV_DATA_S(y), n * sizeof(double));
  CVodeFree(&cvode);
  SUNLinSolFree(solver);
  SUNMatDestroy(J);
  N_VDestroy(y);
  N_VDestroy(run->between);
  N_VDestroy(tolerance);
}

static double seconds(void) {
  struct timespec now;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return now.tv_sec + 1e-9 * now.tv_nsec;
}

static const char *option(int count, char **words, const char *name, const char *usual) {
  for (int k = 2; k + 1 < count; k++)
    if (strcmp(words[k], name) == 0) return words[k + 1];
  return usual;
}

int main(int count, char **words) {
  static Run run;
  static Line fresh;
  if (count < 2) return fprintf(stderr, "usage: cvode FILE --repeat N --solver dense|klu --order 1..5 --first automatic|hint\n"), 2;
  read_line(&fresh, words[1]);
  int repeat = atoi(option(count, words, "--repeat", "1"));
  run.sparse = strcmp(option(count, words, "--solver", "dense"), "klu") == 0;
  run.order = atoi(option(count, words, "--order", "5"));
  run.hint = strcmp(option(count, words, "--first", "automatic"), "hint") == 0;
  run.machine.event = calloc(MOST_EVENTS, sizeof(Event));
  check(SUNContext_Create(NULL, &run.context), "SUNContext_Create");
  printf("{\n  \"version\": \"" SUNDIALS_VERSION "\",\n  \"seconds\": [");
  for (int k = 0; k < repeat; k++) {
    double begin = seconds();
    go(&run, &fresh);
    printf("%s%.9f", k ? ", " : "", seconds() - begin);
  }
  struct rusage usage;
  getrusage(RUSAGE_SELF, &usage);
  printf("],\n  \"peakMegabytes\": %.3f,\n  \"work\": {\"steps\": %ld, \"rejected\": %ld, \"evaluations\": %ld, \"jacobians\": %ld, \"factorizations\": %ld},\n",
         usage.ru_maxrss / 1024.0, run.steps, run.rejected, run.evaluations, run.jacobians, run.factorizations);
  printf("  \"events\": [");
  for (int k = 0; k < run.machine.events; k++) {
    const Event *event = &run.machine.event[k];
    printf("%s\n    {\"time\": %.17g, \"sincePrevious\": %.17g, \"what\": \"%s\"}", k ? "," : "", event->time, event->since, event->what);
  }
  printf("\n  ],\n  \"integrals\": {");
  for (int k = 0; k < flow_count(&run.line); k++) {
    char name[2 * NAME];
    flow_name(&run.line, k, name);
    printf("%s\n    \"%s\": %.12g", k ? "," : "", name, run.total[k]);
  }
  printf("\n  }\n}\n");
  return 0;
}
