#include "config.h"

#include "tpt-matrix-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

/* In em. */
#define LINE 1.7
#define PART_APART 1.0

static const TptText words_text = { TPT_COLOR_QUIET, .size = 0.88, .down = 0.5 };

typedef enum { SAMPLE_NONE, SAMPLE_DISC, SAMPLE_SQUARE, SAMPLE_RING } Sample;

/* @words: (owned) */
typedef struct {
  Sample sample;
  double value;
  char *words;
} Part;

static void
clear_part (gpointer part)
{
  g_free (((Part *) part)->words);
}

static void
add_part (GArray *parts, Sample sample, double value, const char *words)
{
  Part part = { sample, value, g_strdup (words) };

  g_array_append_val (parts, part);
}

/* 1, 2 or 5 times a power of ten, not above @value. */
static double
round_down (double value)
{
  double power = pow (10, floor (log10 (value) + 1e-9));
  double digit = value / power + 1e-9;

  return (digit >= 5 ? 5 : digit >= 2 ? 2 : 1) * power;
}

/* Three sizes, each about a quarter of the next; of what is counted none below 1. */
static void
add_sizes (const TptMatrix *matrix, const TptMatrixLayout *layout, GArray *parts)
{
  double values[3], value = round_down (layout->most);
  guint n = 0;

  for (; n < G_N_ELEMENTS (values) && value > 0 && (matrix->measure != TPT_MATRIX_COUNT || value >= 1); n++)
    {
      values[n] = value;
      value = round_down (value / 4);
    }
  for (guint i = n; i > 0; i--)
    {
      g_autofree char *number = tpt_words_number (values[i - 1]);
      g_autofree char *words = NULL;

      if (i == 1 && matrix->measure == TPT_MATRIX_RATE)
        words = g_strdup_printf (_("%s per 100 trap nights"), number);
      else if (i == 1)
        words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s detection", "%s detections", (gulong) values[0]),
                                 number);
      add_part (parts, SAMPLE_DISC, values[i - 1], words != NULL ? words : number);
    }
}

static gboolean
has_ring (const TptMatrix *matrix, const TptMatrixLayout *layout)
{
  for (guint i = 0; i < matrix->species->len; i++)
    for (guint j = 0; j < matrix->stations->len; j++)
      if (tpt_matrix_get_count (matrix, i, j) > 0 &&
          (isnan (tpt_matrix_get_value (matrix, i, j)) || tpt_matrix_is_beyond (matrix, layout->most, i, j)))
        return TRUE;
  return FALSE;
}

static gboolean
has_idle (const TptMatrix *matrix)
{
  for (guint j = 0; j < matrix->stations->len; j++)
    if (!(tpt_matrix_get_station (matrix, j)->nights > 0))
      return TRUE;
  return FALSE;
}

static GArray *
make_parts (const TptMatrix *matrix, const TptMatrixLayout *layout)
{
  GArray *parts = g_array_new (FALSE, FALSE, sizeof (Part));

  g_array_set_clear_func (parts, clear_part);
  if (matrix->measure == TPT_MATRIX_PRESENCE)
    add_part (parts, SAMPLE_DISC, 1, _("seen"));
  else
    add_sizes (matrix, layout, parts);
  if (has_ring (matrix, layout))
    add_part (parts, SAMPLE_RING, 1, _("seen on too little effort for a rate"));
  add_part (parts, SAMPLE_SQUARE, 0, _("worked, not seen"));
  if (has_idle (matrix))
    add_part (parts, SAMPLE_NONE, 0, _("no square: not at work"));
  return parts;
}

static double
get_sample_width (const TptMatrix *matrix, const TptMatrixLayout *layout, const TptCanvas *canvas, const Part *part)
{
  if (part->sample == SAMPLE_NONE)
    return 0;
  if (part->sample == SAMPLE_SQUARE || (part->sample == SAMPLE_DISC && layout->shaded))
    return 1.5 * canvas->em;
  return (part->sample == SAMPLE_RING ? layout->disc : tpt_matrix_get_diameter (matrix, layout, part->value)) +
    0.4 * canvas->em;
}

static void
draw_part (const TptMatrix *matrix, const TptMatrixLayout *layout, TptCanvas *canvas, const Part *part, double x,
           double y, double width)
{
  double sample = get_sample_width (matrix, layout, canvas, part), wide = sample - 0.4 * canvas->em;
  TptFigureRect square = { x, y - wide / 2, wide, wide };
  TptText text = words_text;

  if (part->sample == SAMPLE_SQUARE)
    tpt_matrix_draw_square (canvas, &square);
  else if (part->sample == SAMPLE_DISC && layout->shaded)
    tpt_matrix_draw_shade (canvas, &square, tpt_matrix_get_depth (matrix, layout, part->value));
  else if (part->sample != SAMPLE_NONE)
    tpt_matrix_draw_disc (canvas, x + wide / 2, y, wide, part->sample == SAMPLE_RING, 1);
  text.width = MAX (width - sample, 1);
  tpt_canvas_write (canvas, part->words, x + sample, y, &text);
}

double
tpt_matrix_set_legend (const TptMatrix *matrix, TptCanvas *canvas, const TptMatrixLayout *layout, double x, double y,
                       double width, gboolean paint)
{
  g_autoptr (GArray) parts = make_parts (matrix, layout);
  double line = LINE * canvas->em, used = 0, top = 0;

  for (guint i = 0; i < parts->len; i++)
    {
      const Part *part = &g_array_index (parts, Part, i);
      double words, height, wide;

      tpt_canvas_measure (canvas, part->words, &words_text, &words, &height);
      wide = MIN (ceil (words) + 1 + get_sample_width (matrix, layout, canvas, part), width);
      if (used > 0 && used + wide > width)
        {
          top += line;
          used = 0;
        }
      if (paint)
        draw_part (matrix, layout, canvas, part, x + used, y + top + line / 2, wide);
      used += wide + PART_APART * canvas->em;
    }
  return top + line;
}
