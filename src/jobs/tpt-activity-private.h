/* The hours of one filter and their curve, and what is said of one or two of them. */
#pragma once

#include "sci-activity.h"
#include "tpt-hours.h"
#include "tpt-job-activity.h"
#include "tpt-pass-private.h"

G_BEGIN_DECLS

/* Coverage of every band and interval. */
#define TPT_ACTIVITY_LEVEL 0.95

/* Fewer records than this and the approximations behind Rayleigh's and Watson's p are not
 * to be trusted. Common practice, no source. */
#define TPT_ACTIVITY_TESTED 10

/**
 * TptActivityOrder: what was asked for.
 * @decimals: of a degree, for what must not be finer; -1 for places as they are
 */
typedef struct {
  gboolean by_sun;
  guint points;
  guint boot;
  guint64 seed;
  int decimals;
} TptActivityOrder;

/**
 * TptActivitySeries:
 * @filter: (owned)
 * @pass: (owned)
 * @picked: (owned) (element-type TptDetection): what it is of
 * @hours: (owned) (element-type double): of those that have one
 * @curve: (owned) (nullable)
 * @found: what is handed out
 */
typedef struct {
  TptFilter *filter;
  TptPass *pass;
  GArray *picked;
  GArray *hours;
  SciActivity *curve;
  TptActivity found;
} TptActivitySeries;

/* (transfer full) (nullable): counted, without its curve; %NULL as tpt_pass_get(). */
TptActivitySeries *tpt_activity_series_new (TptStore *store,
                                            const TptFilter *filter,
                                            GCancellable *cancellable,
                                            GError **error);
void tpt_activity_series_free (TptActivitySeries *self);

/* Hours, curve, band and shares. %FALSE when cancelled. */
gboolean tpt_activity_series_fill (TptActivitySeries *self,
                                   const TptActivityOrder *order,
                                   GCancellable *cancellable,
                                   GError **error);

/* (transfer full): the overlap of two that are filled; %NULL when cancelled. */
TptOverlap *tpt_activity_overlap_new (const TptActivitySeries *self,
                                      const TptActivitySeries *other,
                                      const TptActivityOrder *order,
                                      GCancellable *cancellable,
                                      GError **error);
void tpt_activity_overlap_free (TptOverlap *self);

/* Position of a station: rounded, when @decimals is not negative; %FALSE without one. */
gboolean tpt_activity_place (TptRecord *station, int decimals, double *latitude, double *longitude);

/* What the light is like through the period of one pass, or of two. */
TptHoursSun tpt_activity_light (TptPass *pass, TptPass *other, const TptActivityOrder *order);

/* All (transfer full); @other and @overlap (nullable). */
char *tpt_activity_say (const TptActivitySeries *self, gboolean by_sun);
char *tpt_activity_say_overlap (const TptActivitySeries *self,
                                const TptActivitySeries *other,
                                const TptOverlap *overlap);
char *tpt_activity_say_method (const TptActivitySeries *self,
                               const TptActivitySeries *other,
                               const TptOverlap *overlap,
                               const TptActivityOrder *order);

/* (transfer full): why these hours make no curve; %NULL when they do. */
char *tpt_activity_say_why_not (const GArray *hours, guint n_without);

/* (transfer full): kind "hours"; @other (nullable). */
TptFigure *tpt_activity_draw (const TptActivitySeries *self,
                              const TptActivitySeries *other,
                              const TptActivityOrder *order,
                              const char *summary,
                              const char *method);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptActivitySeries, tpt_activity_series_free)

G_END_DECLS
