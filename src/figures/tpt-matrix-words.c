#include "config.h"

#include "tpt-matrix-private.h"
#include "tpt-phrases-private.h"
#include "tpt-rate-marks-private.h"

#include <glib/gi18n-lib.h>

const char *
tpt_matrix_say_empty (const TptMatrix *matrix)
{
  return matrix->stations->len == 0 ? _("No station was at work in this period.")
                                    : _("Nothing was seen in this period.");
}

static gint64
sum_row (const TptMatrix *matrix, guint row)
{
  gint64 sum = 0;

  for (guint j = 0; j < matrix->stations->len; j++)
    sum += tpt_matrix_get_count (matrix, row, j);
  return sum;
}

static guint
count_seen_at (const TptMatrix *matrix, guint row)
{
  guint n = 0;

  for (guint j = 0; j < matrix->stations->len; j++)
    n += tpt_matrix_get_count (matrix, row, j) > 0;
  return n;
}

gint64
tpt_matrix_get_total (const TptMatrix *matrix, guint row)
{
  return matrix->measure == TPT_MATRIX_PRESENCE ? count_seen_at (matrix, row) : sum_row (matrix, row);
}

/* Where nothing was seen the effort says it all. */
char *
tpt_matrix_describe_cell (const TptMatrix *matrix, guint row, guint column)
{
  const TptMatrixStation *station = tpt_matrix_get_station (matrix, column);
  gint64 count = tpt_matrix_get_count (matrix, row, column);
  double rate = count > 0 && station->nights > 0 ? 100 * (double) count / station->nights : NAN;
  TptRateMark mark = { station->nights, count, rate, NAN, NAN };
  g_autofree char *numbers = tpt_rate_mark_say (&mark);

  /* Translators: a species, a station, and what was seen there. */
  return g_strdup_printf (_("%1$s at %2$s: %3$s"), tpt_matrix_get_species (matrix, row)->label, station->label,
                          numbers);
}

static guint
count_working (const TptMatrix *matrix)
{
  guint n = 0;

  for (guint j = 0; j < matrix->stations->len; j++)
    n += tpt_matrix_get_station (matrix, j)->nights > 0;
  return n;
}

char *
tpt_matrix_describe_species (const TptMatrix *matrix, guint row)
{
  g_autofree char *found = tpt_phrase_detections ((double) sum_row (matrix, row));
  g_autofree char *stations = tpt_phrase_stations (count_seen_at (matrix, row));

  /* Translators: a species, "60 detections", "9 stations". */
  return g_strdup_printf (_("%1$s: %2$s at %3$s"), tpt_matrix_get_species (matrix, row)->label, found, stations);
}

char *
tpt_matrix_describe_station (const TptMatrix *matrix, guint column)
{
  const TptMatrixStation *station = tpt_matrix_get_station (matrix, column);
  g_autofree char *found = NULL, *nights = tpt_phrase_trap_nights (station->nights), *species = NULL;
  gint64 sum = 0;
  guint n = 0;

  for (guint i = 0; i < matrix->species->len; i++)
    {
      sum += tpt_matrix_get_count (matrix, i, column);
      n += tpt_matrix_get_count (matrix, i, column) > 0;
    }
  if (!(station->nights > 0) && sum == 0)
    return g_strdup_printf (_("%s: not at work in this period"), station->label);
  found = tpt_phrase_detections ((double) sum);
  /* Translators: kinds of animals, as many as counted. */
  species = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u species", "%u species", n), n);
  if (!(station->nights > 0))
    /* Translators: a station, "34 detections", "7 species". */
    return g_strdup_printf (_("%1$s: %2$s of %3$s while no camera is on record as at work"), station->label, found,
                            species);
  /* Translators: a station, "34 detections", "7 species", "703 trap nights". */
  return g_strdup_printf (_("%1$s: %2$s of %3$s in %4$s"), station->label, found, species, nights);
}

char *
tpt_matrix_describe (const TptMatrix *matrix)
{
  g_autofree char *stations = tpt_phrase_stations (count_working (matrix));
  GString *text = g_string_new (NULL);

  if (tpt_matrix_is_empty (matrix))
    {
      g_string_append (text, tpt_matrix_say_empty (matrix));
      return g_string_free (text, FALSE);
    }
  /* Translators: "15 stations". */
  g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "%1$u species at %2$s at work.",
                                             "%1$u species at %2$s at work.", matrix->species->len),
                          matrix->species->len, stations);
  for (guint i = 0; i < matrix->species->len; i++)
    {
      g_autofree char *words = tpt_matrix_describe_species (matrix, i);

      g_string_append_printf (text, " %s.", words);
    }
  return g_string_free (text, FALSE);
}

char *
tpt_matrix_explain (const TptMatrix *matrix)
{
  return g_strdup (matrix->measure == TPT_MATRIX_COUNT
                   ? _("Area of a disc, or depth of colour in small cells: detections of a species at a station")
                   : matrix->measure == TPT_MATRIX_RATE
                   ? _("Area of a disc, or depth of colour in small cells: detections of a species per 100 trap "
                       "nights of a station")
                   : _("Mark: the species was seen at the station"));
}
