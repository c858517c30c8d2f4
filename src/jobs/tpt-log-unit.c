#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-log-private.h"

static void
tell_date (TptUnitLife *life, GListStore *log, TptZone *zone, const char *column, const char *text)
{
  const char *date = tpt_record_get_text (life->unit, column);
  TptReading reading;

  if (date != NULL && tpt_reading_parse (date, &reading, NULL))
    tpt_log_add (log, tpt_zone_day_from_number (zone, reading.clock_ms / TPT_DAY), tpt_record_get_code (life->unit), text);
}

static void
tell_dates (TptUnitLife *life, GListStore *log, TptZone *zone)
{
  const char *cause = tpt_record_get_text (life->unit, "retire_cause");
  g_autofree char *word = cause != NULL ? tpt_choice_inline (cause) : NULL;
  g_autofree char *retired = word != NULL ? g_strdup_printf (_("Retired: %s"), word) : g_strdup (_("Retired"));

  tell_date (life, log, zone, "acquired", _("Acquired"));
  tell_date (life, log, zone, "retired", retired);
}

static void
tell_fitting (TptUnitLife *life, GListStore *log, const TptUnitEvent *event)
{
  const char *code = tpt_record_get_code (life->unit);
  g_autofree char *fitted = event->other != NULL
                              ? g_strdup_printf (_("Fitted at %1$s in place of %2$s"), event->place, event->other)
                              : g_strdup_printf (_("Fitted at %s"), event->place);

  tpt_log_add (log, event->at, code, fitted);
  if (event->to != TPT_NO_INSTANT)
    {
      g_autofree char *taken = g_strdup_printf (_("Taken from %s"), event->place);

      tpt_log_add (log, event->to, code, taken);
    }
}

static void
tell_reading (TptUnitLife *life, GListStore *log, const TptUnitEvent *event)
{
  g_autofree char *words = tpt_log_word_reading (event->record, event->other);
  g_autofree char *text = NULL;

  if (words == NULL)
    return;
  text = g_strdup_printf (_("At %s: %s"), event->place, words);
  tpt_log_add (log, event->at, tpt_record_get_code (life->unit), text);
}

char *
tpt_log_word_entry (TptRecord *entry)
{
  const char *cause = tpt_record_get_text (entry, "cause");
  const char *notes = tpt_record_get_text (entry, "notes");
  const char *who = tpt_record_get_text (entry, "by");
  GString *text = g_string_new (tpt_choice_label (tpt_record_get_text (entry, "what")));
  g_autofree char *word = cause != NULL ? tpt_choice_inline (cause) : NULL;

  if (word != NULL)
    g_string_append_printf (text, ": %s", word);
  if (notes != NULL)
    g_string_append_printf (text, "%s %s", word != NULL ? "," : ":", notes);
  if (who != NULL)
    g_string_append_printf (text, " (%s)", who);
  return g_string_free (text, FALSE);
}

void
tpt_log_tell_unit (TptUnitLife *life, GListStore *log, TptZone *zone)
{
  tell_dates (life, log, zone);
  for (guint i = 0; i < life->fittings->len; i++)
    tell_fitting (life, log, life->fittings->pdata[i]);
  for (guint i = 0; i < life->readings->len; i++)
    tell_reading (life, log, life->readings->pdata[i]);
  for (guint i = 0; i < life->entries->len; i++)
    tpt_log_add_entry (log, ((const TptUnitEvent *) life->entries->pdata[i])->record);
  tpt_log_sort (log);
}
