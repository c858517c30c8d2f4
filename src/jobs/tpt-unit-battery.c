#include "config.h"

#include "tpt-unit-battery-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-energy.h"
#include "tpt-battery.h"
#include "tpt-due-fan.h"
#include "tpt-due-power-private.h"
#include "tpt-log-private.h"

/* The chart looks back a year and ahead a year, and shows a month at least. */
#define BACK (365 * TPT_DAY)
#define AHEAD (365 * TPT_DAY)
#define LEAST (30 * TPT_DAY)

/* 10 and 90 % of a normal distribution, in standard deviations: qnorm (0.9). */
#define Z90 1.2815515655446004

/* What the chart is made of while it is put together. */
typedef struct {
  TptUnitLife *life;
  TptInstant on;
  GArray *points; /* (owned) (element-type TptBatteryPoint): places are the life's */
  GArray *fan;    /* (owned) (nullable) (element-type TptFanPoint) */
  char *no_fan;   /* (owned) (nullable) */
  guint n_read;
  gboolean volts_unread; /* volts are on record that say nothing without a chemistry */
} Making;

static void
add_point (Making *making, const TptUnitEvent *event, TptBatterySource source, double share, double low, double high)
{
  TptBatteryPoint point = { event->at, share, low, high, source, event->place };

  g_array_append_val (making->points, point);
}

static void
add_volts (Making *making, const TptUnitEvent *event)
{
  double series = (double) tpt_record_get_integer (making->life->unit, "cells_series", 1);
  SciFraction share = sci_cells_fraction (tpt_due_chemistry (making->life->unit), tpt_record_get_real (event->record, "volts") / series);
  double half = Z90 * share.sd;

  if (isnan (share.fraction))
    {
      making->volts_unread = TRUE;
      return;
    }
  making->n_read++;
  add_point (making, event, TPT_BATTERY_VOLTS, share.fraction, MAX (share.fraction - half, 0), MIN (share.fraction + half, 1));
}

/* A percent is the unit's own word and comes before volts, as in the forecast. */
static void
add_measure (Making *making, const TptUnitEvent *event)
{
  gboolean dead = g_strcmp0 (tpt_record_get_text (event->record, "state"), "dead") == 0;
  double percent = tpt_record_get_real (event->record, "percent");

  if (dead || !isnan (percent))
    {
      making->n_read++;
      add_point (making, event, dead ? TPT_BATTERY_DEAD : TPT_BATTERY_PERCENT, isnan (percent) ? 0 : percent / 100, NAN, NAN);
    }
  else if (tpt_record_is_set (event->record, "volts"))
    add_volts (making, event);
}

/* A unit that another one came in place of went home as it was. */
static void
add_reading (Making *making, const TptUnitEvent *event)
{
  const char *action = tpt_record_get_text (event->record, "action");
  gboolean swapped = g_strcmp0 (action, "swapped") == 0 && event->other == NULL;

  add_measure (making, event);
  if (swapped || g_strcmp0 (action, "charged") == 0)
    add_point (making, event, TPT_BATTERY_RENEWED, 1, NAN, NAN);
}

static gboolean
is_known_at (Making *making, TptInstant at)
{
  for (guint i = 0; i < making->points->len; i++)
    if (g_array_index (making->points, TptBatteryPoint, i).at == at)
      return TRUE;
  return FALSE;
}

/* As the forecast has it: who sets a rig out puts in full cells, unless what
 * was read on that visit says otherwise. */
static void
add_fittings (Making *making)
{
  for (guint i = 0; i < making->life->fittings->len; i++)
    {
      const TptUnitEvent *event = making->life->fittings->pdata[i];

      if (!is_known_at (making, event->at))
        add_point (making, event, TPT_BATTERY_FITTED, 1, NAN, NAN);
    }
}

static gboolean
has_cells (TptRecord *unit)
{
  return tpt_record_is_set (unit, "chemistry") || tpt_record_is_set (unit, "cell_mah");
}

/* (transfer full) (nullable): %NULL when there is something to draw. */
static char *
find_reason (Making *making)
{
  TptRecord *unit = making->life->unit;
  const char *kind = tpt_record_get_text (unit, "kind");

  if (g_strcmp0 (kind, "card") == 0 || g_strcmp0 (kind, "housing") == 0)
    return g_strdup (_("A card or a housing has no cells, so there is no charge to show."));
  if (making->points->len > 0)
    return NULL;
  if (making->volts_unread)
    return g_strdup (_("The charge: cannot say because only volts were read, and the kind of cells is not on record."));
  if (!has_cells (unit))
    return g_strdup (_("The charge: cannot say because no reading is on record, nor what cells it has."));
  return g_strdup (_("The charge: cannot say because it was never set out and no reading is on record."));
}

/* The moment by which the unit is out with a chance of 90 %; the end of the fan
 * when it does not come down so far. */
static TptInstant
find_fan_end (GArray *fan)
{
  for (guint i = 0; i < fan->len; i++)
    if (g_array_index (fan, TptFanPoint, i).high <= 0)
      return g_array_index (fan, TptFanPoint, i).at;
  return g_array_index (fan, TptFanPoint, fan->len - 1).at;
}

static gboolean
ask_fan (Making *making, TptStore *store, TptInstant until, GError **error)
{
  g_clear_pointer (&making->fan, g_array_unref);
  g_clear_pointer (&making->no_fan, g_free);
  return tpt_due_unit_fan (store, tpt_record_get_code (making->life->unit), making->on, until, &making->fan, &making->no_fan, error);
}

/* First as far as the chart looks, then again as far as it matters: a fan that
 * closes in a month would have but three moments of a year. */
static gboolean
make_fan (Making *making, TptStore *store, GError **error)
{
  TptInstant until = making->on + AHEAD, end;

  if (!ask_fan (making, store, until, error))
    return FALSE;
  if (making->no_fan != NULL || making->fan->len == 0)
    return TRUE;
  end = MAX (find_fan_end (making->fan), making->on + TPT_DAY);
  return end > making->on + AHEAD / 2 || ask_fan (making, store, end, error);
}

static TptRange
find_range (Making *making)
{
  TptInstant first = making->on, last = making->on;
  TptRange range;

  for (guint i = 0; i < making->points->len; i++)
    first = MIN (first, g_array_index (making->points, TptBatteryPoint, i).at);
  if (making->fan->len > 0)
    last = MAX (last, g_array_index (making->fan, TptFanPoint, making->fan->len - 1).at);
  range.from = MAX (MIN (first - TPT_DAY, making->on - LEAST), making->on - BACK);
  range.to = last + (last - range.from) / 20;
  return range;
}

static void
write_caption (Making *making, TptFigure *figure, TptRange range, TptZone *zone)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *name = tpt_log_name_unit (making->life->unit);
  g_autofree char *title = g_strdup_printf (_("Charge of %s"), name);

  caption.title = title;
  caption.n = making->n_read;
  caption.n_of = g_dngettext (GETTEXT_PACKAGE, "reading", "readings", making->n_read);
  caption.period = range;
  caption.zone = zone;
  caption.units = _("percent of a full charge");
  caption.method = _("Percent as the unit’s own meter showed it, good to about ten points. Volts at rest through the usual curve "
                     "of the kind of cells. Full when set out, swapped or charged. "
                     "Forecast from the triggers to come and from what the unit drew so far.");
  tpt_figure_set_caption (figure, &caption);
}

static void
make_points (Making *making)
{
  for (guint i = 0; i < making->life->readings->len; i++)
    add_reading (making, making->life->readings->pdata[i]);
  if (making->n_read > 0 || has_cells (making->life->unit))
    add_fittings (making);
}

static void
add_to_figure (Making *making, TptFigure *figure)
{
  for (guint i = 0; i < making->points->len; i++)
    tpt_battery_add_point (figure, &g_array_index (making->points, TptBatteryPoint, i));
  for (guint i = 0; i < making->fan->len; i++)
    {
      const TptFanPoint *fan = &g_array_index (making->fan, TptFanPoint, i);

      tpt_battery_add_fan (figure, fan->at, fan->low, fan->mid, fan->high);
    }
  tpt_battery_set_no_forecast (figure, making->no_fan);
}

static TptFigure *
draw (Making *making, TptZone *zone)
{
  TptRange range = find_range (making);
  TptFigure *figure = tpt_battery_new (range, zone, making->on);

  add_to_figure (making, figure);
  write_caption (making, figure, range, zone);
  return figure;
}

gboolean
tpt_unit_battery_draw (TptUnitLife *life, TptStore *store, TptInstant on, TptFigure **figure, char **why_not, GError **error)
{
  Making making = { .life = life, .on = on, .points = g_array_new (FALSE, FALSE, sizeof (TptBatteryPoint)) };
  gboolean good = TRUE;

  *figure = NULL;
  make_points (&making);
  *why_not = find_reason (&making);
  if (*why_not == NULL)
    good = make_fan (&making, store, error);
  if (*why_not == NULL && good)
    {
      *figure = draw (&making, tpt_store_get_zone (store));
      *why_not = making.no_fan != NULL ? g_strdup_printf (_("No forecast: %s."), making.no_fan) : NULL;
    }
  g_array_unref (making.points);
  g_clear_pointer (&making.fan, g_array_unref);
  g_free (making.no_fan);
  return good;
}
