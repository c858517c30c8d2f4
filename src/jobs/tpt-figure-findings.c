#include "config.h"

#include "tpt-job-figure-private.h"

#include "tpt-findings-jobs-private.h"

TptFigure *
tpt_figure_make_strip (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobFindings) findings = tpt_job_findings_new (order->filter);

  if (order->other != NULL)
    tpt_job_findings_compare (findings, order->other);
  if (!tpt_job_findings_compute (findings, store, cancellable, error))
    return NULL;
  return tpt_job_findings_draw_strip (findings, order->exact);
}

/* Months name no station and no place. */
TptFigure *
tpt_figure_make_months (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobMonths) months = tpt_job_months_new (order->filter);

  if (order->other != NULL)
    tpt_job_months_compare (months, order->other);
  return tpt_job_months_compute (months, store, cancellable, error)
           ? tpt_figure_ref (tpt_job_months_get_figure (months))
           : NULL;
}

TptFigure *
tpt_figure_make_matrix (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobMatrix) matrix = tpt_job_matrix_new (order->filter, TPT_MATRIX_COUNT);

  tpt_job_matrix_set_discreet (matrix, !order->exact);
  return tpt_job_matrix_compute (matrix, store, cancellable, error)
           ? tpt_figure_ref (tpt_job_matrix_get_figure (matrix))
           : NULL;
}

/* Numbers of species name no place. */
TptFigure *
tpt_figure_make_accumulation (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobRichness) richness = tpt_job_richness_new (order->filter);

  return tpt_job_richness_compute (richness, store, cancellable, error)
           ? tpt_figure_ref (tpt_job_richness_get_figure (richness))
           : NULL;
}

TptFigure *
tpt_figure_make_hours (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobActivity) activity = tpt_job_activity_new (order->filter, order->by_sun);

  if (order->other != NULL)
    tpt_job_activity_compare (activity, order->other);
  tpt_job_activity_set_discreet (activity, !order->exact);
  return tpt_job_activity_compute (activity, store, cancellable, error)
           ? tpt_figure_ref (tpt_job_activity_get_figure (activity))
           : NULL;
}
