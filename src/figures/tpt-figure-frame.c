#include "config.h"

#include "tpt-figure-private.h"
#include "tpt-phrases-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

#define MARGIN 1.4 /* em */

static const TptText title_text = { TPT_COLOR_INK, .size = 1.35, .bold = TRUE, .wrap = TRUE };
static const TptText summary_text = { TPT_COLOR_INK, .wrap = TRUE };
static const TptText foot_text = { TPT_COLOR_QUIET, .size = 0.88, .wrap = TRUE };

/* Separated by commas, not by marks that a screen reader would spell. */
static void
append_part (GString *line,
             char *part)
{
  if (line->len > 0)
    g_string_append (line, "; ");
  g_string_append (line, part);
  g_free (part);
}

/* "n = 63 detections; 4,218 trap nights; 1 March 2025 to 12 June 2026 (Asia/Kuching)" */
static char *
make_count_line (const TptFigureCaption *caption)
{
  GString *line = g_string_new (NULL);

  if (caption->n >= 0)
    {
      g_autofree char *n = tpt_words_number (caption->n);

      append_part (line, caption->n_of != NULL ? g_strdup_printf (_("n = %1$s %2$s"), n, caption->n_of)
                                               : g_strdup_printf (_("n = %s"), n));
    }
  if (!isnan (caption->trap_nights))
    {
      g_autofree char *nights = tpt_phrase_trap_nights (caption->trap_nights);

      append_part (line, g_strdup_printf (_("effort %s"), nights));
    }
  if (caption->zone != NULL && (caption->period.from != TPT_NO_INSTANT || caption->period.to != TPT_NO_INSTANT))
    {
      g_autofree char *period = tpt_words_period (caption->period, caption->zone);

      append_part (line, g_strdup_printf ("%s (%s)", period, tpt_zone_get_identifier (caption->zone)));
    }

  return g_string_free (line, FALSE);
}

static GPtrArray *
make_foot (TptFigure *figure)
{
  const TptFigureCaption *caption = tpt_figure_get_caption (figure);
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  char *explanation = tpt_figure_get_explanation (figure);
  char *note = tpt_figure_get_note (figure);

  if (explanation != NULL)
    g_ptr_array_add (lines, explanation);
  g_ptr_array_add (lines, make_count_line (caption));
  if (caption->units != NULL)
    g_ptr_array_add (lines, g_strdup_printf (_("Units: %s"), caption->units));
  if (caption->method != NULL)
    g_ptr_array_add (lines, g_strdup_printf (_("Method: %s"), caption->method));
  if (note != NULL)
    g_ptr_array_add (lines, note);

  return lines;
}

/* Returns the height of @words, set below @y. */
static double
set_paragraph (TptCanvas *canvas,
               const char *words,
               const TptText *form,
               const TptFigureRect *inside,
               double y,
               gboolean paint)
{
  TptText text = *form;
  double width, height;

  if (words == NULL || *words == '\0')
    return 0;

  text.width = inside->width;
  tpt_canvas_measure (canvas, words, &text, &width, &height);
  if (paint)
    tpt_canvas_write (canvas, words, inside->x, y, &text);
  return height;
}

static double
set_head (TptFigure *figure,
          TptCanvas *canvas,
          const TptFigureRect *inside,
          gboolean paint)
{
  const TptFigureCaption *caption = tpt_figure_get_caption (figure);
  double used = set_paragraph (canvas, caption->title, &title_text, inside, inside->y, paint);

  if (caption->summary != NULL)
    used += 0.25 * canvas->em;
  used += set_paragraph (canvas, caption->summary, &summary_text, inside, inside->y + used, paint);
  return used > 0 ? used + 0.9 * canvas->em : 0;
}

static double
set_foot (TptFigure *figure,
          TptCanvas *canvas,
          const TptFigureRect *inside,
          gboolean paint)
{
  g_autoptr (GPtrArray) lines = make_foot (figure);
  double height = 0;
  double y;

  for (guint i = 0; i < lines->len; i++)
    height += set_paragraph (canvas, g_ptr_array_index (lines, i), &foot_text, inside, 0, FALSE);
  if (height == 0)
    return 0;

  y = inside->y + inside->height - height;
  for (guint i = 0; paint && i < lines->len; i++)
    y += set_paragraph (canvas, g_ptr_array_index (lines, i), &foot_text, inside, y, TRUE);
  return height + 0.9 * canvas->em;
}

TptFigureRect
tpt_figure_frame (TptFigure *figure,
                  TptCanvas *canvas,
                  double width,
                  double height,
                  gboolean paint)
{
  double margin = MARGIN * canvas->em;
  TptFigureRect inside = { margin, margin, MAX (width - 2 * margin, 0), MAX (height - 2 * margin, 0) };
  double head;

  if (!canvas->style->framed)
    return (TptFigureRect) { 0, 0, width, height };

  if (paint)
    {
      tpt_canvas_set (canvas, TPT_COLOR_PAPER, 1);
      cairo_paint (canvas->cr);
    }
  if (inside.width < 1)
    return (TptFigureRect) { margin, margin, 0, 0 };

  head = set_head (figure, canvas, &inside, paint);
  inside.height -= head + set_foot (figure, canvas, &inside, paint);
  inside.y += head;
  inside.height = MAX (inside.height, 0);
  return inside;
}
