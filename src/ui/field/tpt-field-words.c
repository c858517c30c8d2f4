#include "config.h"

#include "tpt-field-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

/* Past this a date says more than the forecast knows. */
#define FAR (730 * TPT_DAY)

const char *
tpt_field_words_unit (TptRecord *unit)
{
  const char *label = tpt_record_get_text (unit, "label");

  return label != NULL ? label : tpt_record_get_code (unit);
}

const TptUnitForecast *
tpt_field_words_find (const TptForecast *forecast, const char *unit)
{
  for (guint i = 0; i < forecast->units->len; i++)
    {
      const TptUnitForecast *candidate = forecast->units->pdata[i];

      if (g_strcmp0 (candidate->unit, unit) == 0)
        return candidate;
    }
  return NULL;
}

static void
add_part (GString *text, char *part /* (transfer full) (nullable) */)
{
  g_autofree char *owned = part;

  if (part == NULL || *part == '\0')
    return;
  if (text->len > 0)
    g_string_append (text, ", ");
  g_string_append (text, part);
}

/* (transfer full) (nullable): "4 × NiMH" */
static char *
describe_cells (TptRecord *unit)
{
  const char *chemistry = tpt_record_get_text (unit, "chemistry");
  gint64 cells = tpt_record_get_integer (unit, "cells_series", 1) * tpt_record_get_integer (unit, "cells_parallel", 1);

  if (chemistry == NULL)
    return NULL;
  if (cells == 1)
    return g_strdup (tpt_choice_label (chemistry));
  /* Translators: a number of cells and their chemistry. */
  return g_strdup_printf (_("%1$d × %2$s"), (int) cells, tpt_choice_label (chemistry));
}

/* (transfer full) (nullable): "1/16 power", as flashes are set. */
static char *
describe_power (TptRecord *unit)
{
  double fraction = tpt_record_get_real (unit, "power_fraction");
  double parts = 1 / fraction;

  if (isnan (fraction) || fraction <= 0 || g_strcmp0 (tpt_record_get_text (unit, "kind"), "flash") != 0)
    return NULL;
  if (fraction == 1)
    return g_strdup (_("full power"));
  if (fabs (parts - round (parts)) < 0.01 * parts)
    return g_strdup_printf (_("1/%.0f power"), parts);
  return g_strdup_printf (_("%.0f %% power"), 100 * fraction);
}

/* (transfer full) (nullable) */
static char *
describe_when (const TptInterval *when, gboolean card, TptZone *zone, TptInstant on)
{
  g_autofree char *days = NULL;

  if (when->p10 == TPT_NO_INSTANT)
    return NULL;
  if (when->p50 == TPT_NO_INSTANT || when->p50 - on > FAR)
    return g_strdup (_("lasts for years"));
  if (when->p50 <= on)
    {
      days = tpt_words_day (when->p50, zone, on);
      return g_strdup_printf (card ? _("probably full since %s") : _("probably out since %s"), days);
    }
  if (when->p90 == TPT_NO_INSTANT)
    {
      days = tpt_words_day (when->p50, zone, on);
      return g_strdup_printf (card ? _("full about %s") : _("out about %s"), days);
    }
  days = tpt_words_days (MAX (when->p10, on), when->p90, zone, on);
  return g_strdup_printf (card ? _("full %s") : _("out %s"), days);
}

static char *
describe_frames_left (double frames)
{
  g_autofree char *number = NULL;

  if (isnan (frames))
    return NULL;
  number = tpt_words_number (round (frames));
  return g_strdup_printf (ngettext ("%s frame left", "%s frames left", (gulong) frames), number);
}

static char *
describe_fitted (TptRigItem *item, TptZone *zone, TptInstant on)
{
  TptInstant from = tpt_record_get_instant (tpt_rig_item_get_fitting (item), "from");
  g_autofree char *day = NULL;

  if (from == TPT_NO_INSTANT)
    return NULL;
  day = tpt_words_day (from, zone, on);
  return g_strdup_printf (_("fitted %s"), day);
}

static gboolean
was_found_dead (TptRigItem *item)
{
  TptRecord *reading = tpt_rig_item_get_reading (item);

  return reading != NULL && g_strcmp0 (tpt_record_get_text (reading, "state"), "dead") == 0
         && g_strcmp0 (tpt_record_get_text (reading, "action"), "swapped") != 0
         && g_strcmp0 (tpt_record_get_text (reading, "action"), "charged") != 0
         && g_strcmp0 (tpt_record_get_text (reading, "action"), "repaired") != 0;
}

char *
tpt_field_words_rig (TptRigItem *item, const TptForecast *forecast, TptZone *zone, TptInstant on)
{
  TptRecord *unit = tpt_rig_item_get_unit (item);
  const char *code = tpt_record_get_code (unit);
  const TptUnitForecast *energy = tpt_field_words_find (forecast, code);
  GString *text = g_string_new (NULL);

  add_part (text, describe_cells (unit));
  add_part (text, describe_power (unit));
  if (was_found_dead (item))
    add_part (text, g_strdup (_("found dead")));
  else if (energy != NULL)
    add_part (text, describe_when (&energy->interval, FALSE, zone, on));
  else if (g_strcmp0 (forecast->card.unit, code) == 0)
    {
      add_part (text, describe_frames_left (forecast->card.frames_left));
      add_part (text, describe_when (&forecast->card.interval, TRUE, zone, on));
    }
  if (text->len == 0)
    add_part (text, describe_fitted (item, zone, on));
  return g_string_free (text, FALSE);
}

static char *
describe_on_card (TptRecord *visit)
{
  gint64 frames = tpt_record_get_integer (visit, "frames_on_card", -1);
  g_autofree char *number = NULL;

  if (frames < 0)
    return NULL;
  number = tpt_words_number ((double) frames);
  return g_strdup_printf (ngettext ("%s frame on the card", "%s frames on the card", (gulong) frames), number);
}

char *
tpt_field_words_visit (TptRecord *visit)
{
  const char *found = tpt_record_get_text (visit, "found");
  const char *left = tpt_record_get_text (visit, "left");
  GString *text = g_string_new (NULL);

  add_part (text, found != NULL ? g_strdup (tpt_choice_label (found)) : NULL);
  add_part (text, describe_on_card (visit));
  /* Translators: how a station was left after a visit: "left working". */
  add_part (text, left != NULL ? g_strdup_printf (_("left %s"), left) : NULL);
  add_part (text, g_strdup (tpt_record_get_text (visit, "notes")));
  if (text->len == 0)
    g_string_append (text, _("Visit"));
  return g_string_free (text, FALSE);
}

static char *
describe_degrees (double latitude, double longitude, int digits)
{
  g_autofree char *north = g_strdup_printf ("%.*f", digits, fabs (latitude));
  g_autofree char *east = g_strdup_printf ("%.*f", digits, fabs (longitude));

  /* Translators: latitude and longitude in degrees, each with its side. */
  return g_strdup_printf (_("%1$s° %2$s, %3$s° %4$s"), north, latitude < 0 ? C_("latitude", "S") : C_("latitude", "N"), east,
                          longitude < 0 ? C_("longitude", "W") : C_("longitude", "E"));
}

char *
tpt_field_words_position (TptRecord *station, gboolean exact)
{
  double uncertainty = tpt_record_get_real (station, "uncertainty_m");
  g_autofree char *degrees = NULL;

  if (!tpt_record_is_set (station, "latitude") || !tpt_record_is_set (station, "longitude"))
    return g_strdup (_("No position on record"));
  degrees = describe_degrees (tpt_record_get_real (station, "latitude"), tpt_record_get_real (station, "longitude"),
                              exact ? 5 : 1);
  if (!exact)
    return g_strdup_printf (_("About %s"), degrees);
  if (isnan (uncertainty))
    return g_steal_pointer (&degrees);
  return g_strdup_printf (_("%1$s, within %2$.0f m"), degrees, uncertainty);
}
