#include "config.h"

#include "tpt-battery-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

static int
round_percent (double share)
{
  return (int) round (100 * share);
}

static char *
describe_share (const TptBatteryPoint *point)
{
  int percent = round_percent (point->share);

  switch (point->source)
    {
    case TPT_BATTERY_FITTED:
      return g_strdup (_("taken as full when set out"));
    case TPT_BATTERY_VOLTS:
      return g_strdup_printf (_("%1$d %% left by its volts, likely %2$d to %3$d %%"), percent, round_percent (point->low),
                              round_percent (point->high));
    case TPT_BATTERY_DEAD:
      return g_strdup (_("found dead"));
    case TPT_BATTERY_RENEWED:
      return g_strdup (_("cells swapped or charged"));
    case TPT_BATTERY_PERCENT:
    default:
      return g_strdup_printf (_("%d %% left"), percent);
    }
}

static char *
describe_point (const TptBattery *battery,
                const TptBatteryPoint *point)
{
  g_autofree char *when = tpt_words_instant (point->at, battery->zone);
  g_autofree char *share = describe_share (point);

  if (point->place == NULL)
    return g_strdup_printf ("%s, %s", when, share);
  /* Translators: a moment, a station, what was seen. */
  return g_strdup_printf (_("%1$s, %2$s: %3$s"), when, point->place, share);
}

static char *
describe_fan (const TptBattery *battery,
              const TptBatteryFan *fan)
{
  g_autofree char *date = tpt_words_date (fan->at, battery->zone);

  return g_strdup_printf (_("%1$s: %2$d %% left, with a chance of 80 %% between %3$d and %4$d %%"), date,
                          round_percent (fan->mid), round_percent (fan->low), round_percent (fan->high));
}

/* The first moment at which an edge of the fan has come down to nothing. */
static TptInstant
find_end (const TptBattery *battery,
          gsize edge)
{
  for (guint i = 0; i < battery->fan->len; i++)
    {
      const TptBatteryFan *fan = &g_array_index (battery->fan, TptBatteryFan, i);

      if (G_STRUCT_MEMBER (double, fan, edge) <= 0)
        return fan->at;
    }
  return TPT_NO_INSTANT;
}

static char *
describe_end (const TptBattery *battery)
{
  TptInstant early = find_end (battery, G_STRUCT_OFFSET (TptBatteryFan, low));
  TptInstant late = find_end (battery, G_STRUCT_OFFSET (TptBatteryFan, high));
  g_autofree char *last = tpt_words_date (g_array_index (battery->fan, TptBatteryFan, battery->fan->len - 1).at, battery->zone);
  g_autofree char *from = NULL;
  g_autofree char *to = NULL;

  if (early == TPT_NO_INSTANT)
    return g_strdup_printf (_("Lasts until %s at least, with a chance of 90 %%"), last);
  from = tpt_words_date (early, battery->zone);
  if (late == TPT_NO_INSTANT)
    return g_strdup_printf (_("Will not give out before %s, with a chance of 90 %%"), from);
  to = tpt_words_date (late, battery->zone);
  return g_strdup_printf (_("Gives out between %1$s and %2$s, with a chance of 80 %%"), from, to);
}

static guint
count_source (const TptBattery *battery,
              TptBatterySource source)
{
  guint n = 0;

  for (guint i = 0; i < battery->points->len; i++)
    n += g_array_index (battery->points, TptBatteryPoint, i).source == source;
  return n;
}

char *
tpt_battery_describe (const TptBattery *battery)
{
  g_autofree char *period = tpt_words_period (battery->range, battery->zone);
  guint renewed = count_source (battery, TPT_BATTERY_RENEWED);
  guint read = battery->points->len - renewed - count_source (battery, TPT_BATTERY_FITTED);
  g_autofree char *readings = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u reading", "%u readings", read), read);
  g_autofree char *swaps = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "renewed %u time", "renewed %u times", renewed), renewed);
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, _("Charge of one unit through time, %1$s: %2$s, %3$s."), period, readings, swaps);
  if (battery->points->len > 0)
    {
      g_autofree char *last =
        describe_point (battery, &g_array_index (battery->points, TptBatteryPoint, battery->points->len - 1));

      g_string_append_printf (text, " %s.", last);
    }
  if (battery->fan->len > 0)
    {
      g_autofree char *end = describe_end (battery);

      g_string_append_printf (text, " %s.", end);
    }
  return g_string_free (text, FALSE);
}

char *
tpt_battery_note (const TptBattery *battery)
{
  if (battery->no_forecast == NULL)
    return NULL;
  return g_strdup_printf (_("No forecast: %s"), battery->no_forecast);
}

static void
hit_points (const TptBattery *battery,
            const TptBatteryLayout *layout,
            TptHitTest *test)
{
  for (guint i = 0; i < battery->points->len; i++)
    {
      const TptBatteryPoint *point = &g_array_index (battery->points, TptBatteryPoint, i);
      TptFigureRect rect = tpt_battery_get_point_rect (layout, point);

      if (tpt_hit_test_wants (test, TPT_LAYER_MARK, &rect))
        tpt_hit_test_take (test, TPT_LAYER_MARK, &rect, TPT_HIT_READING, 0, i, describe_point (battery, point), NULL);
    }
}

void
tpt_battery_hit (const TptBattery *battery,
                 TptCanvas *canvas,
                 const TptFigureRect *area,
                 TptHitTest *test)
{
  TptBatteryLayout layout;

  tpt_battery_lay_out (battery, canvas, area, &layout);
  hit_points (battery, &layout, test);
  for (guint i = 0; i + 1 < battery->fan->len; i++)
    {
      TptFigureRect rect = tpt_battery_get_fan_rect (battery, &layout, i);

      if (tpt_hit_test_wants (test, TPT_LAYER_AREA, &rect))
        tpt_hit_test_take (test, TPT_LAYER_AREA, &rect, TPT_HIT_FORECAST, 0, i,
                           describe_fan (battery, &g_array_index (battery->fan, TptBatteryFan, i)), NULL);
    }
}
