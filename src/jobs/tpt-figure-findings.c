#include "config.h"

#include "tpt-job-figure-private.h"

TptFigure *
tpt_figure_make_strip (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobFindings) findings = tpt_job_findings_new (order->filter);

  if (!tpt_job_findings_compute (findings, store, cancellable, error))
    return NULL;
  return tpt_job_findings_draw_strip (findings, order->exact);
}
