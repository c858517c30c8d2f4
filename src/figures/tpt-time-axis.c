#include "tpt-canvas-private.h"
#include "tpt-time-axis.h"
#include "tpt-time-ticks.h"

static const TptText label_text = { TPT_COLOR_QUIET, .size = 0.9, .across = 0.5 };
static const TptText context_text = { TPT_COLOR_INK, .size = 0.9, .across = 0.5 };

double
tpt_time_axis_position (const TptTimeAxis *axis,
                        TptInstant instant)
{
  double span = (double) (axis->range.to - axis->range.from);

  return axis->left + (axis->right - axis->left) * ((double) (instant - axis->range.from) / span);
}

TptInstant
tpt_time_axis_instant (const TptTimeAxis *axis,
                       double x)
{
  double share = (x - axis->left) / (axis->right - axis->left);

  return axis->range.from + (TptInstant) round (CLAMP (share, 0, 1) * (double) (axis->range.to - axis->range.from));
}

double
tpt_time_axis_height (const TptFigureStyle *style)
{
  return 2.9 * TPT_CANVAS_BODY * style->font_scale;
}

/* The wider the axis, the more air between its labels. */
static GArray *
make_ticks (const TptTimeAxis *axis,
            const TptFigureStyle *style)
{
  double width = axis->right - axis->left;
  double room = 4.4 * TPT_CANVAS_BODY * style->font_scale + width / 32;

  return tpt_time_ticks (axis->range, axis->zone, (int) (width / room) + 1);
}

void
tpt_time_axis_draw_grid (const TptTimeAxis *axis,
                         cairo_t *cr,
                         double top,
                         double bottom,
                         const TptFigureStyle *style)
{
  g_autoptr (GArray) ticks = make_ticks (axis, style);

  cairo_save (cr);
  tpt_palette_set (style->palette, cr, TPT_COLOR_FAINT, 1);
  cairo_set_line_width (cr, 1);
  for (guint i = 0; i < ticks->len; i++)
    {
      double x = floor (tpt_time_axis_position (axis, g_array_index (ticks, TptTick, i).at)) + 0.5;

      cairo_move_to (cr, x, top);
      cairo_line_to (cr, x, bottom);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
tpt_time_axis_draw_brush (const TptTimeAxis *axis,
                          cairo_t *cr,
                          double top,
                          double bottom,
                          const TptFigureStyle *style)
{
  TptRange brush = style->brush;
  double left, right;

  if (brush.from == TPT_NO_INSTANT && brush.to == TPT_NO_INSTANT)
    return;

  left = brush.from == TPT_NO_INSTANT ? axis->left : tpt_time_axis_position (axis, brush.from);
  right = brush.to == TPT_NO_INSTANT ? axis->right : tpt_time_axis_position (axis, brush.to);
  left = floor (CLAMP (left, axis->left, axis->right));
  right = floor (CLAMP (right, axis->left, axis->right));

  cairo_save (cr);
  tpt_palette_set (style->palette, cr, TPT_COLOR_ACCENT, 0.12);
  cairo_rectangle (cr, left, top, right - left, bottom - top);
  cairo_fill (cr);
  tpt_palette_set (style->palette, cr, TPT_COLOR_ACCENT, 1);
  cairo_set_line_width (cr, 2);
  cairo_move_to (cr, left, top);
  cairo_line_to (cr, left, bottom);
  cairo_move_to (cr, right, top);
  cairo_line_to (cr, right, bottom);
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* Keeps a label at the end of the axis from hanging far over it. */
static TptFigureRect
place_label (TptCanvas *canvas,
             const TptTimeAxis *axis,
             const TptTick *tick,
             const char *words,
             double y,
             const TptText *text)
{
  double slack = canvas->em;
  TptFigureRect rect = tpt_canvas_place (canvas, words, tpt_time_axis_position (axis, tick->at), y, text);

  rect.x = MIN (rect.x, axis->right + slack - rect.width);
  rect.x = MAX (rect.x, axis->left - slack);
  return rect;
}

static void
write_labels (TptCanvas *canvas,
              const TptTimeAxis *axis,
              GArray *ticks,
              double y)
{
  double free_from = -G_MAXDOUBLE;

  for (guint i = 0; i < ticks->len; i++)
    {
      const TptTick *tick = &g_array_index (ticks, TptTick, i);
      TptFigureRect rect = place_label (canvas, axis, tick, tick->label, y, &label_text);
      TptText text = label_text;

      if (rect.x < free_from)
        continue;
      text.across = 0;
      tpt_canvas_write (canvas, tick->label, rect.x, rect.y, &text);
      free_from = rect.x + rect.width + 0.4 * canvas->em;
    }
}

/* The first context names where the axis begins, which is less than where the
 * next one does: it gives way. */
static void
write_contexts (TptCanvas *canvas,
                const TptTimeAxis *axis,
                GArray *ticks,
                double y)
{
  TptText text = context_text;
  TptFigureRect waiting = { 0 };
  const char *words = NULL;
  gboolean first = TRUE;

  text.across = 0;
  for (guint i = 0; i < ticks->len; i++)
    {
      const TptTick *tick = &g_array_index (ticks, TptTick, i);
      TptFigureRect rect;
      gboolean apart;

      if (tick->context[0] == '\0')
        continue;
      rect = place_label (canvas, axis, tick, tick->context, y, &context_text);
      apart = words == NULL || rect.x > waiting.x + waiting.width + 0.6 * canvas->em;
      if (!apart && !first)
        continue;
      if (words != NULL && apart)
        tpt_canvas_write (canvas, words, waiting.x, waiting.y, &text);
      first = words == NULL;
      words = tick->context;
      waiting = rect;
    }
  if (words != NULL)
    tpt_canvas_write (canvas, words, waiting.x, waiting.y, &text);
}

void
tpt_time_axis_draw_labels (const TptTimeAxis *axis,
                           cairo_t *cr,
                           double top,
                           const TptFigureStyle *style)
{
  g_autoptr (GArray) ticks = make_ticks (axis, style);
  TptCanvas canvas;

  tpt_canvas_begin (&canvas, cr, style);
  write_labels (&canvas, axis, ticks, top + 0.25 * canvas.em);
  write_contexts (&canvas, axis, ticks, top + 1.45 * canvas.em);
  tpt_canvas_end (&canvas);
}

void
tpt_time_axis_draw_line (const TptTimeAxis *axis,
                         cairo_t *cr,
                         double middle,
                         const TptFigureStyle *style)
{
  g_autoptr (GArray) ticks = make_ticks (axis, style);
  double free_from = -G_MAXDOUBLE;
  TptText text = label_text;
  TptCanvas canvas;

  text.down = 0.5;
  tpt_canvas_begin (&canvas, cr, style);
  for (guint i = 0; i < ticks->len; i++)
    {
      const TptTick *tick = &g_array_index (ticks, TptTick, i);
      g_autofree char *words = g_strconcat (tick->label, tick->context[0] != '\0' ? " " : "", tick->context, NULL);
      TptFigureRect rect = place_label (&canvas, axis, tick, words, middle, &text);

      if (rect.x < free_from)
        continue;
      tpt_canvas_write (&canvas, words, rect.x + rect.width / 2, middle, &text);
      free_from = rect.x + rect.width + 0.4 * canvas.em;
    }
  tpt_canvas_end (&canvas);
}
