#include "config.h"

#include "tpt-pass-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-findings-items-private.h"
#include "tpt-fold.h"
#include "tpt-sightings-private.h"
#include "tpt-words.h"

/* More names than these make no title. */
#define MOST_NAMES 3

static int
find_species (TptPass *self, const char *name)
{
  for (guint i = 0; i < self->species->len; i++)
    if (tpt_species_is_called (self->species->pdata[i], name))
      return (int) i;
  return -1;
}

/* Whether each word of @sought, folded, begins one of a species' names. */
static gboolean
is_like (TptRecord *species, const char *sought)
{
  g_autofree char *scientific = tpt_fold_text (tpt_record_get_code (species));
  gboolean like = tpt_fold_fits (scientific, sought);
  GHashTableIter iter;
  gpointer common;

  g_hash_table_iter_init (&iter, tpt_record_get_names (species));
  while (!like && g_hash_table_iter_next (&iter, NULL, &common))
    {
      g_autofree char *folded = tpt_fold_text (common);
      like = tpt_fold_fits (folded, sought);
    }
  return like;
}

/* (transfer full) (nullable): "Sunda clouded leopard, Sunda leopard cat" for "leopard". */
static char *
name_alike (TptPass *self, const char *name)
{
  g_autofree char *sought = tpt_fold_text (name);
  g_autoptr (GString) names = g_string_new (NULL);
  guint n = 0;

  for (guint i = 0; *sought != '\0' && i < self->species->len && n < MOST_NAMES; i++)
    {
      g_autofree char *title = NULL;

      if (!is_like (self->species->pdata[i], sought))
        continue;
      title = tpt_species_title (self->species->pdata[i]);
      g_string_append_printf (names, "%s%s", n++ > 0 ? ", " : "", title);
    }
  return n > 0 ? g_string_free (g_steal_pointer (&names), FALSE) : NULL;
}

static void
refuse_name (TptPass *self, const char *name, GError **error)
{
  g_autofree char *alike = name_alike (self, name);

  if (alike != NULL)
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no species “%1$s” in this project; there is: %2$s"), name, alike);
  else
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no species “%s” in this project"), name);
}

gboolean *
tpt_pass_choose (TptPass *self, const char *const *species, GError **error)
{
  g_autofree gboolean *chosen = g_new (gboolean, self->species->len + 1);

  for (guint i = 0; i < self->species->len; i++)
    chosen[i] = species == NULL;
  for (guint i = 0; species != NULL && species[i] != NULL; i++)
    {
      int found = find_species (self, species[i]);

      if (found < 0)
        {
          refuse_name (self, species[i], error);
          return NULL;
        }
      chosen[found] = TRUE;
    }
  return g_steal_pointer (&chosen);
}

/* Goes through all rows by time, which were put in order once, instead of sorting
 * detections for each choice. */
GArray *
tpt_pass_pick (TptPass *self, const gboolean *chosen)
{
  guint n_rows = self->sightings->rows->len;
  g_autofree guint *of_row = g_new0 (guint, n_rows); /* a detection and 1, or 0 */
  GArray *picked = g_array_new (FALSE, FALSE, sizeof (TptDetection));

  for (guint i = 0; i < self->detections->len; i++)
    {
      const TptDetection *detection = &g_array_index (self->detections, TptDetection, i);

      of_row[detection->sighting] = chosen[detection->species] ? i + 1 : 0;
    }
  for (guint i = 0; i < n_rows; i++)
    {
      guint detection = of_row[self->sightings->by_time[i]];

      if (detection > 0)
        g_array_append_vals (picked, &g_array_index (self->detections, TptDetection, detection - 1), 1);
    }
  return picked;
}

char *
tpt_pass_name_species (TptPass *self, const char *const *species)
{
  g_autofree gboolean *chosen = NULL;
  g_autoptr (GString) names = g_string_new (NULL);
  guint n = 0;

  if (species == NULL)
    return g_strdup (_("All species"));
  chosen = tpt_pass_choose (self, species, NULL);
  for (guint i = 0; chosen != NULL && species[i] != NULL; i++)
    {
      int found = find_species (self, species[i]);
      g_autofree char *title = tpt_species_title (self->species->pdata[found]);

      if (!chosen[found])
        continue; /* named twice */
      chosen[found] = FALSE;
      g_string_append_printf (names, "%s%s", n == 0 ? "" : ", ", title);
      n++;
    }
  if (n > MOST_NAMES)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u species", "%u species", n), n);
  return g_string_free (g_steal_pointer (&names), FALSE);
}

char *
tpt_pass_name_both (TptPass *self, const TptFilter *filter, TptPass *other, const TptFilter *other_filter)
{
  g_autofree char *first = tpt_pass_name_species (self, (const char *const *) filter->species), *second = NULL;

  if (other == NULL)
    return g_steal_pointer (&first);
  second = tpt_pass_name_species (other, (const char *const *) other_filter->species);
  if (g_str_equal (first, second))
    return g_steal_pointer (&first);
  /* Translators: two species. */
  return g_strdup_printf (_("%1$s and %2$s"), first, second);
}

TptRange
tpt_pass_unite_periods (TptPass *self, TptPass *other)
{
  TptRange a = self->period, b = other != NULL ? other->period : a;

  if (a.from == TPT_NO_INSTANT || b.from == TPT_NO_INSTANT)
    return a.from == TPT_NO_INSTANT ? b : a;
  return (TptRange){ MIN (a.from, b.from), MAX (a.to, b.to) };
}

char *
tpt_pass_describe_method (TptPass *self)
{
  g_autofree char *minutes = tpt_words_number (self->independence_min);

  return g_strdup_printf (
    self->from_first
      ? _("A record counts anew when it starts at least %s minutes after the start of the last one that counted. "
          "Trap nights are 24 h of a camera in working order.")
      : _("A record counts anew when it starts at least %s minutes after the last frame of the one before. "
          "Trap nights are 24 h of a camera in working order."),
    minutes);
}

static gboolean
same_words (GStrv a, GStrv b)
{
  return (a == NULL) == (b == NULL) && (a == NULL || g_strv_equal ((const char *const *) a, (const char *const *) b));
}

/* Both ends known; what was left open is where effort begins or ends. */
static char *
name_period (TptPass *self, TptRange range)
{
  TptRange known = { range.from != TPT_NO_INSTANT ? range.from : self->period.from,
                     range.to != TPT_NO_INSTANT ? range.to : self->period.to };

  if (known.from == TPT_NO_INSTANT || known.to == TPT_NO_INSTANT)
    return g_strdup (_("no effort"));
  return tpt_words_period (known, self->zone);
}

static char *
name_stations (TptPass *self, GStrv stations)
{
  if (stations == NULL)
    return g_strdup (_("all stations"));
  if (g_strv_length (stations) == 1 && self->places->len == 1)
    {
      const char *name = tpt_record_get_text (self->places->pdata[0], "name");

      return g_strdup (name != NULL ? name : stations[0]);
    }
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u station", "%u stations", self->places->len),
                          self->places->len);
}

char *
tpt_pass_name_difference (TptPass *self, const TptFilter *filter, const TptFilter *other)
{
  if (!same_words (filter->species, other->species))
    return tpt_pass_name_species (self, (const char *const *) filter->species);
  if (filter->range.from != other->range.from || filter->range.to != other->range.to)
    return name_period (self, filter->range);
  if (!same_words (filter->stations, other->stations))
    return name_stations (self, filter->stations);
  return tpt_filter_describe_hours (filter);
}
