/* A visit sheet in words. */
#include "config.h"

#include "tpt-visit-sheet-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-log-private.h"
#include "tpt-words.h"

static void
add_noted (GPtrArray *lines, const char *label, const char *text)
{
  if (text != NULL)
    g_ptr_array_add (lines, g_strdup_printf ("%s: %s", label, text));
}

void
tpt_visit_sheet_say_place (const TptVisitSheet *self, GPtrArray *lines)
{
  TptRecord *record = tpt_station_item_get_record (self->item);
  const char *access = tpt_record_get_text (record, "access");

  g_ptr_array_add (lines, g_strdup (access != NULL ? access : _("No way in is noted.")));
  add_noted (lines, _("Feature"), tpt_record_get_text (record, "feature"));
  add_noted (lines, _("Note"), tpt_record_get_text (record, "notes"));
  if (!self->context->exact)
    return;
  if (tpt_record_is_set (record, "latitude"))
    g_ptr_array_add (lines, g_strdup_printf (_("Exact position: %1$.5f°, %2$.5f° (latitude, longitude, WGS 84)"),
                                             tpt_record_get_real (record, "latitude"), tpt_record_get_real (record, "longitude")));
  else
    g_ptr_array_add (lines, g_strdup (_("No position is on record.")));
}

static char *
list_done (const TptVisitSheet *self)
{
  g_autoptr (GStrvBuilder) parts = g_strv_builder_new ();
  g_auto (GStrv) words = NULL;

  for (guint i = 0; i < self->done->len; i++)
    {
      const char *action = tpt_record_get_text (self->done->pdata[i], "action");
      const char *label = tpt_log_unit_label (self->done_units->pdata[i]);
      g_autofree char *what = action != NULL && !g_str_equal (action, "none") ? tpt_choice_inline (action) : NULL;
      g_autofree char *part = NULL;

      /* Translators: a unit, and what was done to it. */
      part = what != NULL ? g_strdup_printf (_("%1$s %2$s"), label, what) : NULL;
      if (part != NULL)
        g_strv_builder_add (parts, part);
    }
  words = g_strv_builder_end (parts);
  return words[0] != NULL ? g_strjoinv (", ", words) : NULL;
}

void
tpt_visit_sheet_say_last_visit (const TptVisitSheet *self, GPtrArray *lines)
{
  g_autofree char *when = NULL, *done = NULL;
  const char *people, *found;

  if (self->last_visit == NULL)
    {
      g_ptr_array_add (lines, g_strdup (_("No visit is on record yet.")));
      return;
    }
  when = tpt_words_instant (tpt_record_get_instant (self->last_visit, "at"), self->context->zone);
  people = tpt_record_get_text (self->last_visit, "people");
  found = tpt_record_get_text (self->last_visit, "found");
  /* Translators: when, and by whom. */
  g_ptr_array_add (lines, people != NULL ? g_strdup_printf (_("%1$s, by %2$s"), when, people) : g_steal_pointer (&when));
  add_noted (lines, _("Found"), found != NULL ? tpt_choice_label (found) : NULL);
  done = list_done (self);
  add_noted (lines, _("Done"), done != NULL ? done : _("nothing noted"));
  add_noted (lines, _("Left"), tpt_record_get_text (self->last_visit, "left"));
  add_noted (lines, _("Note"), tpt_record_get_text (self->last_visit, "notes"));
}

/* "Camera pack: out 3 to 10 June, with a chance of 62 % by the round" */
static void
add_part (const TptVisitSheet *self, GPtrArray *lines, const char *label, gboolean card, double chance, const TptInterval *when,
          const char *why)
{
  g_autofree char *days = NULL;
  int percent = (int) lround (100 * chance);

  if (why != NULL)
    {
      g_ptr_array_add (lines, g_strdup_printf ("%s: %s", label, why));
      return;
    }
  if (!(chance >= self->context->threshold))
    return;
  if (when->p10 != TPT_NO_INSTANT && when->p90 != TPT_NO_INSTANT)
    days = tpt_words_days (when->p10, when->p90, self->context->zone, self->context->on);
  if (days != NULL)
    g_ptr_array_add (lines, g_strdup_printf (card ? _("%1$s: full %2$s; by the round with a chance of %3$d %%")
                                                  : _("%1$s: out %2$s; by the round with a chance of %3$d %%"), label, days, percent));
  else
    g_ptr_array_add (lines, g_strdup_printf (card ? _("%1$s: full by the round with a chance of %2$d %%")
                                                  : _("%1$s: out by the round with a chance of %2$d %%"), label, percent));
}

static const char *
name_card (const TptVisitSheet *self)
{
  for (guint i = 0; i < self->units->len; i++)
    if (tpt_sheet_unit_is_kind (self->units->pdata[i], "card"))
      return tpt_log_unit_label (((TptSheetUnit *) self->units->pdata[i])->unit);
  return _("Card");
}

/* What limits the station is told in the first line, all else that is due below. */
void
tpt_visit_sheet_say_due (const TptVisitSheet *self, GPtrArray *lines)
{
  const TptForecast *forecast = tpt_station_item_get_forecast (self->item);
  g_autofree char *day = tpt_words_day (self->context->until, self->context->zone, self->context->on);
  g_autofree char *summary = tpt_station_item_describe (self->item, self->context->zone, self->context->on);

  g_ptr_array_add (lines, g_strdup (summary));
  if (forecast->state == TPT_STATE_DOWN && isfinite (forecast->lost_nights))
    g_ptr_array_add (lines, g_strdup_printf (_("Waiting until %1$s is expected to cost %2$.1f nights."), day, forecast->lost_nights));
  else if (isfinite (forecast->p_down) && isfinite (forecast->lost_nights))
    g_ptr_array_add (lines, g_strdup_printf (_("Down by %1$s with a chance of %2$d %%; waiting until then is expected to cost %3$.1f "
                                               "nights."), day, (int) lround (100 * forecast->p_down), forecast->lost_nights));
  for (guint i = 0; i < forecast->units->len; i++)
    {
      const TptUnitForecast *unit = forecast->units->pdata[i];

      if (g_strcmp0 (unit->unit, forecast->limiting) != 0)
        add_part (self, lines, unit->label, FALSE, unit->p_out, &unit->interval, unit->why);
    }
  if (forecast->card.unit != NULL && g_strcmp0 (forecast->limiting, "card") != 0)
    add_part (self, lines, name_card (self), TRUE, forecast->card.p_full, &forecast->card.interval, forecast->card.why);
}

void
tpt_visit_sheet_say_bring (const TptVisitSheet *self, GPtrArray *lines)
{
  for (guint i = 0; i < self->pack->len; i++)
    g_ptr_array_add (lines, tpt_pack_item_describe (&g_array_index (self->pack, TptPackItem, i), self->pack));
  g_ptr_array_add (lines, g_strdup (_("A watch that is right to the second")));
  if (tpt_visit_sheet_has_kind (self, "card") && self->pack->len == 0)
    g_ptr_array_add (lines, g_strdup (_("An empty card, to take the full one home")));
}

char *
tpt_visit_sheet_say_reading (const TptVisitSheet *self, const TptSheetUnit *unit)
{
  const TptLastReading *reading = unit->reading;
  g_autofree char *day = NULL, *what = NULL;

  if (reading == NULL)
    {
      day = tpt_words_day (unit->fitted_at, self->context->zone, self->context->on);
      return g_strdup_printf (_("none since fitted on %s"), day);
    }
  day = tpt_words_day (reading->at, self->context->zone, self->context->on);
  if (g_str_equal (reading->action, "swapped") || g_str_equal (reading->action, "charged"))
    what = tpt_choice_inline (reading->action);
  else if (!isnan (reading->percent))
    what = g_strdup_printf ("%.0f %%", reading->percent);
  else if (!isnan (reading->volts))
    what = g_strdup_printf ("%.2f V", reading->volts);
  else
    what = tpt_choice_inline (*reading->state != '\0' ? reading->state : *reading->action != '\0' ? reading->action : "unknown");
  /* Translators: a reading, and its day. */
  return g_strdup_printf (_("%1$s, %2$s"), what, day);
}

char *
tpt_visit_sheet_say_expected (const TptVisitSheet *self, const TptSheetUnit *unit)
{
  const TptCardForecast *card = &tpt_station_item_get_forecast (self->item)->card;

  if (tpt_sheet_unit_is_kind (unit, "card") && isfinite (card->left))
    return g_strdup_printf (_("about %.0f %% free"), 100 * card->left);
  if (unit->forecast != NULL && isfinite (unit->forecast->left))
    return g_strdup_printf (_("about %.0f %%"), 100 * unit->forecast->left);
  if (tpt_sheet_unit_is_kind (unit, "housing") || tpt_sheet_unit_is_kind (unit, "other"))
    return g_strdup (_("sound and dry"));
  return g_strdup (_("cannot say"));
}

void
tpt_visit_sheet_say_cautions (const TptVisitSheet *self, GPtrArray *lines)
{
  gboolean lithium = tpt_visit_sheet_has_chemistry (self, "lithium") || tpt_visit_sheet_has_chemistry (self, "li-ion");

  g_ptr_array_add (lines, g_strdup (_("Tell somebody your round and the hour you are due back, and do not go alone where you can help it.")));
  g_ptr_array_add (lines, g_strdup (_("Look before you reach: snakes, scorpions and stinging insects like housings and straps; look up "
                                      "for dead branches.")));
  if (tpt_visit_sheet_has_kind (self, "flash"))
    g_ptr_array_add (lines, g_strdup (_("A flash holds a charge that can kill long after it is switched off and its cells are out: never "
                                        "open one.")));
  g_ptr_array_add (lines, g_strdup (_("Do not mix cells of different kinds, makes, ages or states of charge; replace all of a pack at once, "
                                      "and bring the spent ones back.")));
  if (lithium)
    g_ptr_array_add (lines, g_strdup (_("Keep lithium cells out of heat and sun, and leave a swollen or dented one alone.")));
  if (tpt_visit_sheet_has_chemistry (self, "lead-acid"))
    g_ptr_array_add (lines, g_strdup (_("Lead-acid batteries burn with acid and give off gas while charging.")));
  g_ptr_array_add (lines, g_strdup (_("Local rules, the makers’ instructions and licensed practice come first. This sheet leads to equipment: "
                                      "keep it to those who go.")));
}
