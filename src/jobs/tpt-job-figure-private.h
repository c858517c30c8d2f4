/* What was ordered of a figure, and who makes it. */
#pragma once

#include "tpt-findings-private.h"
#include "tpt-job-figure.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/**
 * TptFigureOrder:
 * @filter: (not owned)
 * @other: (not owned) (nullable): what a strip, hours and months show beside it
 * @exact: places, and names of stations, as they are
 * @by: of lives
 * @on, @until: of what is due
 * @by_sun: of hours
 */
typedef struct {
  const TptFilter *filter;
  const TptFilter *other;
  gboolean exact;
  TptLivesBy by;
  TptInstant on;
  TptInstant until;
  gboolean by_sun;
} TptFigureOrder;

/* (transfer full): one kind each; %NULL with @error. */
typedef TptFigure *(*TptFigureMaker) (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable,
                                      GError **error);

TptFigure *tpt_figure_make_strip (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable,
                                  GError **error);
TptFigure *tpt_figure_make_map (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable,
                                GError **error);
TptFigure *tpt_figure_make_due (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable,
                                GError **error);
TptFigure *tpt_figure_make_lives (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable,
                                  GError **error);
TptFigure *tpt_figure_make_months (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable,
                                   GError **error);
TptFigure *tpt_figure_make_matrix (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable,
                                   GError **error);
TptFigure *tpt_figure_make_accumulation (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable,
                                         GError **error);
TptFigure *tpt_figure_make_hours (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable,
                                  GError **error);

G_END_DECLS
