#include "config.h"

#include "tpt-battery-private.h"
#include "tpt-number.h"

#include <glib/gi18n-lib.h>

static const TptFigureKind battery_kind;

static void
clear_point (gpointer data)
{
  g_free ((char *) ((TptBatteryPoint *) data)->place);
}

static void
free_battery (gpointer data)
{
  TptBattery *battery = data;

  g_array_unref (battery->points);
  g_array_unref (battery->fan);
  tpt_zone_unref (battery->zone);
  g_free (battery->no_forecast);
  g_free (battery);
}

TptFigure *
tpt_battery_new (TptRange range,
                 TptZone *zone,
                 TptInstant now)
{
  TptBattery *battery;

  g_return_val_if_fail (range.from != TPT_NO_INSTANT && range.to > range.from, NULL);

  battery = g_new0 (TptBattery, 1);
  battery->range = range;
  battery->zone = tpt_zone_ref (zone);
  battery->now = now;
  battery->points = g_array_new (FALSE, FALSE, sizeof (TptBatteryPoint));
  g_array_set_clear_func (battery->points, clear_point);
  battery->fan = g_array_new (FALSE, FALSE, sizeof (TptBatteryFan));
  return tpt_figure_new (&battery_kind, battery);
}

static gboolean
comes_before (const TptBatteryPoint *a,
              const TptBatteryPoint *b)
{
  return a->at != b->at ? a->at < b->at : a->source < b->source;
}

void
tpt_battery_add_point (TptFigure *figure,
                       const TptBatteryPoint *point)
{
  TptBattery *battery = tpt_figure_get_data (figure, &battery_kind);
  TptBatteryPoint copy = *point;
  guint place = battery->points->len;

  if (isnan (point->share) || point->at < battery->range.from || point->at > battery->range.to)
    return;
  copy.share = CLAMP (point->share, 0, 1);
  copy.place = g_strdup (point->place);
  while (place > 0 && comes_before (&copy, &g_array_index (battery->points, TptBatteryPoint, place - 1)))
    place--;
  g_array_insert_val (battery->points, place, copy);
}

void
tpt_battery_add_fan (TptFigure *figure,
                     TptInstant at,
                     double low,
                     double mid,
                     double high)
{
  TptBattery *battery = tpt_figure_get_data (figure, &battery_kind);
  TptBatteryFan fan = { at, CLAMP (low, 0, 1), CLAMP (mid, 0, 1), CLAMP (high, 0, 1) };

  if (!isnan (low + mid + high) && at >= battery->range.from && at <= battery->range.to)
    g_array_append_val (battery->fan, fan);
}

void
tpt_battery_set_no_forecast (TptFigure *figure,
                             const char *why)
{
  TptBattery *battery = tpt_figure_get_data (figure, &battery_kind);

  g_free (battery->no_forecast);
  battery->no_forecast = g_strdup (why);
}

static void
draw_battery (TptFigure *figure,
              TptCanvas *canvas,
              const TptFigureRect *area)
{
  tpt_battery_paint (tpt_figure_get_data (figure, &battery_kind), canvas, area);
}

static double
get_battery_height (TptFigure *figure,
                    TptCanvas *canvas,
                    double width)
{
  return 17 * canvas->em;
}

static TptFigureRect
get_battery_plot (TptFigure *figure,
                  TptCanvas *canvas,
                  const TptFigureRect *area)
{
  TptBatteryLayout layout;

  tpt_battery_lay_out (tpt_figure_get_data (figure, &battery_kind), canvas, area, &layout);
  return layout.plot;
}

static TptTimeAxis
get_battery_axis (TptFigure *figure,
                  TptCanvas *canvas,
                  const TptFigureRect *area)
{
  TptBatteryLayout layout;

  tpt_battery_lay_out (tpt_figure_get_data (figure, &battery_kind), canvas, area, &layout);
  return layout.axis;
}

static void
hit_battery (TptFigure *figure,
             TptCanvas *canvas,
             const TptFigureRect *area,
             TptHitTest *test)
{
  tpt_battery_hit (tpt_figure_get_data (figure, &battery_kind), canvas, area, test);
}

static char *
describe_battery (TptFigure *figure)
{
  return tpt_battery_describe (tpt_figure_get_data (figure, &battery_kind));
}

static char *
note_battery (TptFigure *figure)
{
  return tpt_battery_note (tpt_figure_get_data (figure, &battery_kind));
}

static char *
explain_battery (TptFigure *figure)
{
  return g_strdup (_("Dots: as read, with a range of 80 % where told by volts; rings: taken as full when set out; "
                     "upright lines: cells swapped or charged; fan: forecast, middle and 80 %"));
}

/* A percentage that was cut to a share and back is what it was. */
static char *
format_percent (double share)
{
  return tpt_number_format_real (round (1e8 * share) / 1e6);
}

static void
add_row (const TptBattery *battery,
         TptFigureTable *table,
         const char *item,
         TptInstant at,
         const double shares[3],
         const char *place)
{
  tpt_figure_table_add (table, g_strdup (item), tpt_instant_format (at, battery->zone),
                        format_percent (shares[0]), format_percent (shares[1]), format_percent (shares[2]),
                        g_strdup (place != NULL ? place : ""), NULL);
}

static void
add_battery_rows (TptFigure *figure,
                  TptFigureTable *table)
{
  static const char *const items[] = { "taken-as-full", "read-percent", "read-volts", "found-dead", "renewed" };
  const TptBattery *battery = tpt_figure_get_data (figure, &battery_kind);

  for (guint i = 0; i < battery->points->len; i++)
    {
      const TptBatteryPoint *point = &g_array_index (battery->points, TptBatteryPoint, i);
      const double shares[] = { point->share, point->low, point->high };

      add_row (battery, table, items[point->source], point->at, shares, point->place);
    }
  for (guint i = 0; i < battery->fan->len; i++)
    {
      const TptBatteryFan *fan = &g_array_index (battery->fan, TptBatteryFan, i);
      const double shares[] = { fan->mid, fan->low, fan->high };

      add_row (battery, table, "forecast", fan->at, shares, NULL);
    }
}

static const char *const battery_columns[] = { "item", "at", "percent", "percent_p10", "percent_p90", "station", NULL };

static const TptFigureKind battery_kind = {
  .name = "battery",
  .columns = battery_columns,
  .draw = draw_battery,
  .height = get_battery_height,
  .plot = get_battery_plot,
  .axis = get_battery_axis,
  .hit = hit_battery,
  .add_rows = add_battery_rows,
  .describe = describe_battery,
  .note = note_battery,
  .explain = explain_battery,
  .free_data = free_battery,
};
