#include "sci-random.h"
#include "tpt-demo-private.h"

/* Troubles along the way, a few for each station. Up to @chance of the visits
 * meet this one or one before it. */
static const TptDemoTrouble troubles[] = {
  { 0.03, "dead", "water in the housing; dried, seal renewed", 'K', "failure", "moisture", TRUE },
  { 0.05, "disturbed", "pushed over by a pig; set upright", 'H', "damage", "animal", FALSE },
  { 0.07, NULL, "ants in the housing, cleaned", 'K', "cleaning", NULL, FALSE },
  { 0.09, NULL, "cable chewed, taped", 'T', "failure", "animal", TRUE },
};

const TptDemoTrouble *
tpt_demo_draw_trouble (const TptDemoStory *told)
{
  double u = sci_random_uniform (told->number, DRAW_VISIT, told->visits);

  for (guint i = 0; told->visits >= 2 && i < G_N_ELEMENTS (troubles); i++)
    if (u < troubles[i].chance)
      return &troubles[i];
  return NULL;
}

static gboolean
write_entry (TptDemo *demo, const char *unit, TptInstant at, const char *what, const char *cause, const char *notes, GError **error)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_UNIT_LOG);
  g_autofree char *code = g_strdup_printf ("L%03" G_GINT64_FORMAT, ++demo->entry);

  tpt_record_set_text (record, "entry", code);
  tpt_record_set_text (record, "unit", unit);
  tpt_record_set_instant (record, "at", at);
  tpt_record_set_text (record, "what", what);
  tpt_record_set_text (record, "cause", cause);
  tpt_record_set_text (record, "by", "Jau");
  tpt_record_set_text (record, "notes", notes);
  return tpt_demo_save (demo, record, error);
}

/* The cable of the beam, else of a flash, else of the camera. */
static char *
name_unit (const TptDemoStory *told, char letter)
{
  const TptDemoStation *s = told->station;
  guint n = told->number;

  if (letter == 'H')
    return tpt_demo_unit_code ("H", n + 1);
  if (letter == 'T' && s->beam)
    return tpt_demo_unit_code ("T", n + 1);
  if (letter == 'T' && s->flashes > 0)
    return tpt_demo_unit_code ("F", 2 * n + 1);
  return tpt_demo_unit_code ("K", n + 1);
}

gboolean
tpt_demo_write_trouble (TptDemoStory *told, const TptDemoTrouble *trouble, TptInstant at, GError **error)
{
  g_autofree char *unit = name_unit (told, trouble->letter);

  return write_entry (told->demo, unit, at, trouble->what, trouble->cause, trouble->notes, error) &&
         (!trouble->mended ||
          write_entry (told->demo, unit, at + 20 * TPT_MINUTE, "repair", NULL, trouble->notes, error));
}

/* What befell units that are no longer in any rig. */
gboolean
tpt_demo_write_losses (TptDemo *demo, GError **error)
{
  static const struct {
    const char *unit, *at, *what, *cause, *notes;
  } losses[] = {
    { "K-94", "2025-03-22T10:40", "loss", "theft", "strap cut; nothing else touched" },
    { "F-92", "2025-01-18T08:15", "failure", "flood", "under water for a night" },
    { "P-91", "2025-12-05T16:30", "failure", "age", "holds a quarter of its charge" },
  };
  TptZone *zone = tpt_store_get_zone (demo->store);

  for (guint i = 0; i < G_N_ELEMENTS (losses); i++)
    if (!write_entry (demo, losses[i].unit, tpt_instant_parse (losses[i].at, zone, NULL), losses[i].what, losses[i].cause,
                      losses[i].notes, error))
      return FALSE;
  return TRUE;
}
