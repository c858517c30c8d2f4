#include "config.h"

#include "tpt-job-figure-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-due-figure-private.h"
#include "tpt-error.h"
#include "tpt-job-due-private.h"
#include "tpt-unit-lives-private.h"

static gboolean
is_empty (const TptFilter *filter)
{
  return filter->stations == NULL && filter->species == NULL && filter->range.from == TPT_NO_INSTANT &&
         filter->range.to == TPT_NO_INSTANT && filter->hour_from < 0 && isnan (filter->independence_min) &&
         filter->gap_from_first < 0;
}

/* Units have no station, species or hour of their own: a filter that did
 * nothing would be a false promise. */
static gboolean
check_no_filter (const TptFilter *filter, GError **error)
{
  if (is_empty (filter))
    return TRUE;
  g_set_error_literal (
    error, TPT_ERROR, TPT_ERROR_USAGE,
    _("Unit lives are those of all units: stations, species, times and independence cannot be chosen"));
  return FALSE;
}

TptFigure *
tpt_figure_make_lives (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobLives) lives = tpt_job_lives_new (order->by);

  if (!check_no_filter (order->filter, error) || !tpt_job_lives_compute (lives, store, error))
    return NULL;
  return tpt_figure_ref (tpt_job_lives_get_figure (lives));
}

/* What is due can be that of some stations, but knows no species or period. */
TptFigure *
tpt_figure_make_due (const TptFigureOrder *order, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptJobDue) due = tpt_job_due_new (order->on, order->until);
  g_autoptr (TptFilter) rest = tpt_filter_copy (order->filter);

  g_clear_pointer (&rest->stations, g_strfreev);
  if (!is_empty (rest))
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE,
                           _("Of what is due, stations can be chosen, but no species, times or independence"));
      return NULL;
    }
  tpt_job_due_set_stations (due, (const char *const *) order->filter->stations);
  if (!tpt_job_due_compute (due, store, cancellable, error))
    return NULL;
  return tpt_due_figure_make (due, tpt_store_get_zone (store), order->exact);
}
