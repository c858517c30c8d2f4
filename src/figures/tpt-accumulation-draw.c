#include "config.h"

#include "tpt-accumulation-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>

#define POINTS_APART 9.0 /* units that let each number of stations have its point */

static const TptText head_text = { TPT_COLOR_QUIET, .size = 0.9 };
static const TptText tick_text = { TPT_COLOR_QUIET, .size = 0.9, .across = 0.5 };

static double
place_species (const TptAccumulationLayout *layout, double value)
{
  return tpt_value_axis_position (&layout->species, value);
}

static void
draw_species_axis (TptCanvas *canvas, const TptAccumulationLayout *layout, const TptFigureRect *area)
{
  const TptFigureRect *plot = &layout->plot;
  double bottom = floor (plot->y + plot->height) + 0.5;

  tpt_value_axis_draw_grid (&layout->species, canvas->cr, TRUE, plot->x, plot->x + plot->width, canvas->style);
  tpt_value_axis_draw_upright (&layout->species, canvas->cr, plot->x - 0.6 * canvas->em, canvas->style);
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
  tpt_canvas_rule (canvas, plot->x, bottom, plot->x + plot->width, bottom, 1);
  /* Translators: head of an axis, a number of species. */
  tpt_canvas_write (canvas, _("species"), area->x + tpt_canvas_get_inset (canvas), area->y + 0.1 * canvas->em,
                    &head_text);
}

/* Returns where the next one may begin. */
static double
draw_tick (TptCanvas *canvas, const TptAccumulationLayout *layout, double x, guint n, double free_from)
{
  double bottom = layout->plot.y + layout->plot.height;
  g_autofree char *words = tpt_words_number (n);
  TptFigureRect rect = tpt_canvas_place (canvas, words, x, bottom + 0.45 * canvas->em, &tick_text);

  if (rect.x < free_from)
    return free_from;
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
  tpt_canvas_rule (canvas, floor (x) + 0.5, bottom, floor (x) + 0.5, bottom + 0.35 * canvas->em, 1);
  tpt_canvas_write (canvas, words, x, bottom + 0.45 * canvas->em, &tick_text);
  return rect.x + rect.width + 0.5 * canvas->em;
}

/* From one station: none shows none. */
static void
draw_stations_axis (const TptAccumulation *accumulation, TptCanvas *canvas, const TptAccumulationLayout *layout)
{
  const TptFigureRect *plot = &layout->plot;
  guint n = accumulation->steps->len;
  TptText what = head_text;
  TptValueAxis axis;
  double free_from;

  tpt_value_axis_init (&axis, n, tpt_value_axis_room (plot->width, FALSE, canvas->style), TRUE);
  free_from = draw_tick (canvas, layout, tpt_accumulation_place (accumulation, layout, 0), 1, -G_MAXDOUBLE);
  for (guint i = (guint) axis.step; i <= n; i += (guint) axis.step)
    free_from = draw_tick (canvas, layout, tpt_accumulation_place (accumulation, layout, i - 1), i, free_from);
  draw_tick (canvas, layout, tpt_accumulation_place (accumulation, layout, n - 1), n, free_from);
  what.across = 1;
  /* Translators: what an axis counts. */
  tpt_canvas_write (canvas, _("stations"), plot->x + plot->width, plot->y + plot->height + 1.75 * canvas->em, &what);
}

static void
draw_band (const TptAccumulation *accumulation, TptCanvas *canvas, const TptAccumulationLayout *layout)
{
  guint n = accumulation->steps->len;

  cairo_new_path (canvas->cr);
  for (guint i = 0; i < n; i++)
    cairo_line_to (canvas->cr, tpt_accumulation_place (accumulation, layout, i),
                   place_species (layout, tpt_accumulation_get_step (accumulation, i)->high));
  for (guint i = n; i > 0; i--)
    cairo_line_to (canvas->cr, tpt_accumulation_place (accumulation, layout, i - 1),
                   place_species (layout, tpt_accumulation_get_step (accumulation, i - 1)->low));
  cairo_close_path (canvas->cr);
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 0.16);
  cairo_fill (canvas->cr);
}

static void
draw_point (TptCanvas *canvas, double x, double y, double radius)
{
  cairo_new_path (canvas->cr);
  cairo_arc (canvas->cr, x, y, radius, 0, 2 * G_PI);
  cairo_fill (canvas->cr);
}

/* The end of it is what was seen. */
static void
draw_curve (const TptAccumulation *accumulation, TptCanvas *canvas, const TptAccumulationLayout *layout)
{
  guint n = accumulation->steps->len;
  gboolean points = layout->plot.width / n >= POINTS_APART;

  cairo_new_path (canvas->cr);
  for (guint i = 0; i < n; i++)
    cairo_line_to (canvas->cr, tpt_accumulation_place (accumulation, layout, i),
                   place_species (layout, tpt_accumulation_get_step (accumulation, i)->mean));
  tpt_canvas_set (canvas, TPT_COLOR_ACCENT, 1);
  cairo_set_line_width (canvas->cr, 1.7);
  cairo_set_line_join (canvas->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (canvas->cr);
  for (guint i = points ? 0 : n - 1; i < n; i++)
    draw_point (canvas, tpt_accumulation_place (accumulation, layout, i),
                place_species (layout, tpt_accumulation_get_step (accumulation, i)->mean),
                (i + 1 == n ? 0.34 : 0.2) * canvas->em);
}

static void
set_level_color (TptCanvas *canvas, guint index, double alpha)
{
  tpt_canvas_set (canvas, (TptColorRole) (TPT_COLOR_SERIES_2 + index % (TPT_N_SERIES - 1)), alpha);
}

/* A short thick line across its interval, which is open above where it leaves the scale. */
static void
draw_level (const TptAccumulation *accumulation, TptCanvas *canvas, const TptAccumulationLayout *layout, guint index)
{
  const TptAccumulationLevel *level = tpt_accumulation_get_level (accumulation, index);
  TptFigureRect rect = tpt_accumulation_get_level_rect (accumulation, layout, canvas, index);
  double x = rect.x + rect.width / 2, y = place_species (layout, level->level), size = 0.26 * canvas->em;

  set_level_color (canvas, index, 0.75);
  if (!isnan (level->low) && !isnan (level->high))
    tpt_canvas_rule (canvas, x, rect.y, x, rect.y + rect.height, 1.4);
  if (level->high > layout->species.to)
    {
      cairo_move_to (canvas->cr, x - size, rect.y + 1.2 * size);
      cairo_line_to (canvas->cr, x, rect.y);
      cairo_line_to (canvas->cr, x + size, rect.y + 1.2 * size);
      cairo_stroke (canvas->cr);
    }
  set_level_color (canvas, index, 1);
  tpt_canvas_rule (canvas, rect.x, y, rect.x + rect.width, y, 3);
}

static char *
say_numbers (double value, double low, double high)
{
  g_autofree char *number = tpt_words_number (value);
  g_autofree char *from = NULL, *to = NULL;

  if (isnan (low) || isnan (high))
    return g_steal_pointer (&number);
  from = tpt_words_number (low);
  to = tpt_words_number (high);
  /* Translators: a number and the ends of its interval. */
  return g_strdup_printf (_("%1$s (%2$s to %3$s)"), number, from, to);
}

/* A faint line leads from the mark to its words, which may have moved. */
static void
draw_leader (TptCanvas *canvas, const TptAccumulationLayout *layout, double x, double y, double label_y)
{
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 0.4);
  cairo_move_to (canvas->cr, x, y);
  cairo_line_to (canvas->cr, layout->labels - 0.75 * canvas->em, y);
  cairo_line_to (canvas->cr, layout->labels - 0.25 * canvas->em, label_y);
  cairo_set_line_width (canvas->cr, 1);
  cairo_stroke (canvas->cr);
}

static void
write_label (TptCanvas *canvas, const TptAccumulationLayout *layout, guint index, const char *name, const char *numbers)
{
  TptFigureRect rect = tpt_accumulation_get_label_rect (layout, canvas, index);
  TptText above = { TPT_COLOR_INK, .size = 0.9, .width = layout->label_width, .down = 0.5 };
  TptText below = { TPT_COLOR_QUIET, .size = 0.9, .width = layout->label_width, .down = 0.5 };
  g_autofree char *both = g_strdup_printf ("%s %s", name, numbers);

  if (layout->label_lines == 1)
    {
      tpt_canvas_write (canvas, both, rect.x, rect.y + rect.height / 2, &above);
      return;
    }
  tpt_canvas_write (canvas, name, rect.x, rect.y + 0.25 * rect.height, &above);
  tpt_canvas_write (canvas, numbers, rect.x, rect.y + 0.75 * rect.height, &below);
}

static void
write_labels (const TptAccumulation *accumulation, TptCanvas *canvas, const TptAccumulationLayout *layout)
{
  guint last = accumulation->steps->len - 1;

  for (guint i = 0; i < layout->n_labels; i++)
    {
      const TptAccumulationLevel *level = i > 0 ? tpt_accumulation_get_level (accumulation, i - 1) : NULL;
      double value = level != NULL ? level->level : tpt_accumulation_get_step (accumulation, last)->mean;
      TptFigureRect rect = { 0 };
      g_autofree char *numbers =
        level != NULL ? say_numbers (value, level->low, level->high) : tpt_words_number (value);

      if (level != NULL)
        rect = tpt_accumulation_get_level_rect (accumulation, layout, canvas, i - 1);
      draw_leader (canvas, layout, level != NULL ? rect.x + rect.width : layout->plot.x + layout->plot.width,
                   place_species (layout, value), layout->label_y[i]);
      /* Translators: beside the number of species that were seen. */
      write_label (canvas, layout, i, level != NULL ? level->label : _("seen"), numbers);
    }
}

void
tpt_accumulation_paint (const TptAccumulation *accumulation, TptCanvas *canvas, const TptFigureRect *area)
{
  TptAccumulationLayout layout;

  if (accumulation->steps->len == 0)
    {
      tpt_canvas_say (canvas, area,
                      _("Nothing was seen at a station at work in this period: there are no species to add up."));
      return;
    }
  tpt_accumulation_lay_out (accumulation, canvas, area, &layout);
  draw_species_axis (canvas, &layout, area);
  draw_stations_axis (accumulation, canvas, &layout);
  draw_band (accumulation, canvas, &layout);
  write_labels (accumulation, canvas, &layout);
  draw_curve (accumulation, canvas, &layout);
  for (guint i = 0; i < accumulation->levels->len; i++)
    draw_level (accumulation, canvas, &layout, i);
}
