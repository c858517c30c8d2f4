#include "config.h"

#include "tpt-figure-private.h"

#include <glib/gi18n-lib.h>

#define HIT_REACH 6.0

struct _TptFigure {
  gatomicrefcount references;
  const TptFigureKind *kind;
  gpointer data; /* (owned) */
  TptFigureCaption caption; /* (owned), every text and the zone */
};

static void
clear_caption (TptFigureCaption *caption)
{
  g_free ((char *) caption->title);
  g_free ((char *) caption->summary);
  g_free ((char *) caption->n_of);
  g_free ((char *) caption->method);
  g_free ((char *) caption->units);
  g_clear_pointer (&caption->zone, tpt_zone_unref);
}

TptFigure *
tpt_figure_new (const TptFigureKind *kind,
                gpointer data)
{
  TptFigure *figure = g_new0 (TptFigure, 1);
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;

  g_atomic_ref_count_init (&figure->references);
  figure->kind = kind;
  figure->data = data;
  figure->caption = caption;
  return figure;
}

TptFigure *
tpt_figure_ref (TptFigure *figure)
{
  g_atomic_ref_count_inc (&figure->references);
  return figure;
}

void
tpt_figure_unref (TptFigure *figure)
{
  if (!g_atomic_ref_count_dec (&figure->references))
    return;

  figure->kind->free_data (figure->data);
  clear_caption (&figure->caption);
  g_free (figure);
}

gpointer
tpt_figure_get_data (TptFigure *figure,
                     const TptFigureKind *kind)
{
  g_assert (figure->kind == kind);
  return figure->data;
}

gboolean
tpt_figure_is_of (TptFigure *figure,
                  const TptFigureKind *kind)
{
  return figure->kind == kind;
}

const TptFigureCaption *
tpt_figure_get_caption (TptFigure *figure)
{
  return &figure->caption;
}

char *
tpt_figure_get_note (TptFigure *figure)
{
  return figure->kind->note != NULL ? figure->kind->note (figure) : NULL;
}

char *
tpt_figure_get_explanation (TptFigure *figure)
{
  return figure->kind->explain != NULL ? figure->kind->explain (figure) : NULL;
}

const char *
tpt_figure_get_kind (TptFigure *figure)
{
  return figure->kind->name;
}

void
tpt_figure_set_caption (TptFigure *figure,
                        const TptFigureCaption *caption)
{
  TptFigureCaption copy = *caption;

  copy.title = g_strdup (caption->title);
  copy.summary = g_strdup (caption->summary);
  copy.n_of = g_strdup (caption->n_of);
  copy.method = g_strdup (caption->method);
  copy.units = g_strdup (caption->units);
  copy.zone = caption->zone != NULL ? tpt_zone_ref (caption->zone) : NULL;

  clear_caption (&figure->caption);
  figure->caption = copy;
}

void
tpt_figure_draw (TptFigure *figure,
                 cairo_t *cr,
                 double width,
                 double height,
                 const TptFigureStyle *style)
{
  TptCanvas canvas;
  TptFigureRect area;

  tpt_canvas_begin (&canvas, cr, style);
  cairo_new_path (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  area = tpt_figure_frame (figure, &canvas, width, height, TRUE);
  if (area.width >= 1 && area.height >= 1)
    figure->kind->draw (figure, &canvas, &area);
  tpt_canvas_end (&canvas);
}

double
tpt_figure_preferred_height (TptFigure *figure,
                             double width,
                             const TptFigureStyle *style)
{
  const double any = 1e6;
  TptCanvas canvas;
  TptFigureRect area;
  double height;

  tpt_canvas_begin_blank (&canvas, style);
  area = tpt_figure_frame (figure, &canvas, width, any, FALSE);
  height = any - area.height + figure->kind->height (figure, &canvas, area.width);
  tpt_canvas_end (&canvas);

  return ceil (height);
}

TptFigureRect
tpt_figure_plot_rect (TptFigure *figure,
                      double width,
                      double height,
                      const TptFigureStyle *style)
{
  TptCanvas canvas;
  TptFigureRect area;

  tpt_canvas_begin_blank (&canvas, style);
  area = tpt_figure_frame (figure, &canvas, width, height, FALSE);
  area = figure->kind->plot (figure, &canvas, &area);
  tpt_canvas_end (&canvas);

  return area;
}

static double
get_distance (const TptHitTest *test,
              const TptFigureRect *rect)
{
  double dx = MAX (MAX (rect->x - test->x, test->x - rect->x - rect->width), 0);
  double dy = MAX (MAX (rect->y - test->y, test->y - rect->y - rect->height), 0);

  return hypot (dx, dy);
}

/* A row is everything beside its marks: it has no reach beyond itself. */
gboolean
tpt_hit_test_wants (const TptHitTest *test,
                    TptLayer layer,
                    const TptFigureRect *rect)
{
  double distance = get_distance (test, rect);
  double reach = layer == TPT_LAYER_MARK ? HIT_REACH : layer == TPT_LAYER_BAR ? HIT_REACH / 2 : 0;

  if (distance > reach || (int) layer < test->layer)
    return FALSE;
  return (int) layer > test->layer || distance < test->distance ||
    (distance == test->distance && rect->width * rect->height < test->hit->rect.width * test->hit->rect.height);
}

void
tpt_hit_test_take (TptHitTest *test,
                   TptLayer layer,
                   const TptFigureRect *rect,
                   TptHitKind kind,
                   int row,
                   int item,
                   char *text,
                   const char *key)
{
  tpt_hit_clear (test->hit);
  test->layer = layer;
  test->distance = get_distance (test, rect);
  test->hit->kind = kind;
  test->hit->row = row;
  test->hit->item = item;
  test->hit->rect = *rect;
  test->hit->text = text;
  test->hit->key = g_strdup (key);
}

void
tpt_hit_test_tell (TptHitTest *test,
                   const char *item_key,
                   TptRange when,
                   double hour_from,
                   double hour_to)
{
  g_free (test->hit->item_key);
  test->hit->item_key = g_strdup (item_key);
  test->hit->when = when;
  test->hit->hour_from = hour_from;
  test->hit->hour_to = hour_to;
}

void
tpt_hit_clear (TptHit *hit)
{
  g_clear_pointer (&hit->text, g_free);
  g_clear_pointer (&hit->key, g_free);
  g_clear_pointer (&hit->item_key, g_free);
  *hit = (TptHit) TPT_HIT_INIT;
}

gboolean
tpt_figure_hit (TptFigure *figure,
                double x,
                double y,
                double width,
                double height,
                const TptFigureStyle *style,
                TptHit *hit)
{
  TptHitTest test = { x, y, -1, G_MAXDOUBLE, hit };
  TptCanvas canvas;
  TptFigureRect area;

  *hit = (TptHit) TPT_HIT_INIT;
  tpt_canvas_begin_blank (&canvas, style);
  area = tpt_figure_frame (figure, &canvas, width, height, FALSE);
  if (area.width >= 1 && area.height >= 1)
    figure->kind->hit (figure, &canvas, &area, &test);
  tpt_canvas_end (&canvas);

  return hit->kind != TPT_HIT_NOTHING;
}

static gboolean
get_axis (TptFigure *figure,
          double width,
          double height,
          const TptFigureStyle *style,
          TptTimeAxis *axis)
{
  TptCanvas canvas;
  TptFigureRect area;

  if (figure->kind->axis == NULL)
    return FALSE;

  tpt_canvas_begin_blank (&canvas, style);
  area = tpt_figure_frame (figure, &canvas, width, height, FALSE);
  *axis = figure->kind->axis (figure, &canvas, &area);
  tpt_canvas_end (&canvas);

  return axis->right > axis->left;
}

gboolean
tpt_figure_value_at (TptFigure *figure,
                     double x,
                     double width,
                     double height,
                     const TptFigureStyle *style,
                     TptInstant *instant)
{
  TptTimeAxis axis;

  if (!get_axis (figure, width, height, style, &axis))
    return FALSE;

  *instant = tpt_time_axis_instant (&axis, x);
  return TRUE;
}

double
tpt_figure_position_of (TptFigure *figure,
                        TptInstant instant,
                        double width,
                        double height,
                        const TptFigureStyle *style)
{
  TptTimeAxis axis;

  if (!get_axis (figure, width, height, style, &axis))
    return NAN;

  return tpt_time_axis_position (&axis, instant);
}

TptZone *
tpt_figure_get_zone (TptFigure *figure)
{
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  TptTimeAxis axis;

  return get_axis (figure, 640, 400, &style, &axis) ? axis.zone : NULL;
}

double
tpt_figure_hour_at (TptFigure *figure,
                    double x,
                    double width,
                    double height,
                    const TptFigureStyle *style)
{
  TptFigureRect plot;

  if (!figure->kind->axis_of_hours)
    return NAN;

  plot = tpt_figure_plot_rect (figure, width, height, style);
  return CLAMP ((x - plot.x) / MAX (plot.width, 1), 0, 1) * 24;
}

char *
tpt_figure_describe (TptFigure *figure)
{
  g_autofree char *words = figure->kind->describe (figure);
  g_autofree char *note = tpt_figure_get_note (figure);
  GString *text = g_string_new (NULL);

  if (figure->caption.title != NULL)
    g_string_append_printf (text, "%s. ", figure->caption.title);
  if (figure->caption.summary != NULL)
    g_string_append_printf (text, "%s ", figure->caption.summary);
  g_string_append (text, words);
  if (note != NULL)
    g_string_append_printf (text, " %s.", note);

  return g_string_free (text, FALSE);
}

TptFigureTable *
tpt_figure_table (TptFigure *figure)
{
  TptFigureTable *table = tpt_figure_table_new (figure->kind->columns);

  figure->kind->add_rows (figure, table);
  return table;
}
