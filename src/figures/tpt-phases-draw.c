#include "config.h"

#include "tpt-phases-private.h"

#include <glib/gi18n-lib.h>

/* In em. */
#define HEAD 1.6
#define MOON 0.75 /* radius */
#define MOON_GAP 0.35
#define LABEL_GAP 0.3

static const TptText head_text = { TPT_COLOR_QUIET, .size = 0.9 };

/* The moons come in turn: names of every fourth are still those of new and full. */
#define LABEL_EVERY_MOST 4

static TptText
get_label_text (double width)
{
  return (TptText) { TPT_COLOR_QUIET, .size = 0.9, .across = 0.5, .width = MAX (width, 1), .wrap = TRUE };
}

/* Whether every word of a name fits into @width: names are parted between words only. */
static gboolean
fits (TptCanvas *canvas,
      const char *label,
      double width)
{
  g_auto (GStrv) words = g_strsplit (label, " ", -1);
  TptText text = { TPT_COLOR_QUIET, .size = 0.9 };
  double wide, high;

  for (guint i = 0; words[i] != NULL; i++)
    {
      tpt_canvas_measure (canvas, words[i], &text, &wide, &high);
      if (wide > width)
        return FALSE;
    }
  return TRUE;
}

static double
get_label_width (const TptPhases *phases,
                 const TptCanvas *canvas,
                 double plot_width,
                 guint every)
{
  return plot_width / MAX (phases->phases->len, 1) * every - 0.5 * canvas->em;
}

static gboolean
all_fit (const TptPhases *phases,
         TptCanvas *canvas,
         double plot_width,
         guint every)
{
  double width = get_label_width (phases, canvas, plot_width, every);

  for (guint i = 0; i < phases->phases->len; i += every)
    if (!fits (canvas, g_array_index (phases->phases, TptPhase, i).label, width))
      return FALSE;
  return TRUE;
}

static double
measure_labels (const TptPhases *phases,
                TptCanvas *canvas,
                double plot_width,
                guint every)
{
  TptText text = get_label_text (get_label_width (phases, canvas, plot_width, every));
  double highest = 0, width, height;

  for (guint i = 0; i < phases->phases->len; i += every)
    {
      tpt_canvas_measure (canvas, g_array_index (phases->phases, TptPhase, i).label, &text, &width, &height);
      highest = MAX (highest, height);
    }
  return highest;
}

/* The scale does not change its width with its height: it may be laid out twice. */
void
tpt_phases_lay_out (const TptPhases *phases,
                    TptCanvas *canvas,
                    const TptFigureRect *area,
                    TptPhasesLayout *layout)
{
  double em = canvas->em, below;
  TptFigureRect rates = { area->x, area->y + HEAD * em, area->width, MAX (area->height - HEAD * em, 1) };

  tpt_phases_set_scale (phases, &layout->scale);
  tpt_rate_scale_lay_out (&layout->scale, canvas, &rates);
  layout->label_every = 1;
  while (layout->label_every < LABEL_EVERY_MOST &&
         !all_fit (phases, canvas, layout->scale.plot.width, layout->label_every))
    layout->label_every *= 2;
  layout->labels_height = measure_labels (phases, canvas, layout->scale.plot.width, layout->label_every);
  layout->radius = MIN (MOON * em, 0.4 * layout->scale.plot.width / MAX (phases->phases->len, 1));

  below = 2 * layout->radius + (MOON_GAP + LABEL_GAP) * em + layout->labels_height;
  rates.height = MAX (rates.height - below, 1);
  tpt_rate_scale_lay_out (&layout->scale, canvas, &rates);
  layout->head = area->y + 0.2 * em;
  layout->moons = rates.y + rates.height + MOON_GAP * em + layout->radius;
  layout->labels = layout->moons + layout->radius + LABEL_GAP * em;
}

double
tpt_phases_get_height (const TptPhases *phases,
                       TptCanvas *canvas,
                       double width)
{
  TptFigureRect any = { 0, 0, width, 1e6 };
  TptPhasesLayout layout;

  tpt_phases_lay_out (phases, canvas, &any, &layout);
  return ceil (any.height - (layout.moons - layout.radius - MOON_GAP * canvas->em) + HEAD * canvas->em +
               tpt_rate_scale_get_height (canvas));
}

double
tpt_phases_place (const TptPhases *phases,
                  const TptPhasesLayout *layout,
                  guint index,
                  double *room)
{
  *room = layout->scale.plot.width / phases->phases->len;
  return layout->scale.plot.x + (index + 0.5) * *room;
}

/* Half the rim, and back along the terminator, half an ellipse. Right and left as if waxing. */
static void
trace_lit (cairo_t *cr,
           double radius,
           double lit)
{
  double bulge = (1 - 2 * lit) * radius;

  cairo_new_path (cr);
  cairo_arc (cr, 0, 0, radius, -G_PI_2, G_PI_2);
  for (int i = 1; i <= 24; i++)
    {
      double angle = G_PI_2 - G_PI * i / 24;

      cairo_line_to (cr, bulge * cos (angle), radius * sin (angle));
    }
  cairo_close_path (cr);
}

/* Light is light on every paper: on a dark one it is the ink. */
void
tpt_moon_draw (TptCanvas *canvas,
               double x,
               double y,
               double radius,
               double lit,
               gboolean waxing)
{
  gboolean dark = canvas->style->palette == TPT_PALETTE_DARK;
  cairo_t *cr = canvas->cr;

  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_new_path (cr);
  cairo_arc (cr, 0, 0, radius, 0, 2 * G_PI);
  tpt_canvas_set (canvas, dark ? TPT_COLOR_PAPER : TPT_COLOR_INK, 1);
  cairo_fill (cr);
  cairo_save (cr);
  cairo_scale (cr, waxing ? 1 : -1, 1);
  trace_lit (cr, radius, CLAMP (lit, 0, 1));
  cairo_restore (cr);
  tpt_canvas_set (canvas, dark ? TPT_COLOR_INK : TPT_COLOR_PAPER, 1);
  cairo_fill (cr);
  cairo_new_path (cr);
  cairo_arc (cr, 0, 0, radius, 0, 2 * G_PI);
  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
write_label (const TptPhases *phases,
             const TptPhasesLayout *layout,
             TptCanvas *canvas,
             const char *label,
             double x)
{
  double width = get_label_width (phases, canvas, layout->scale.plot.width, layout->label_every);
  TptText text = get_label_text (width);
  double wide, high;

  /* lines are centred in the width they are given */
  tpt_canvas_measure (canvas, label, &text, &wide, &high);
  text.width = wide + 1;
  pango_layout_set_alignment (canvas->layout, PANGO_ALIGN_CENTER);
  tpt_canvas_write (canvas, label, x, layout->labels, &text);
  pango_layout_set_alignment (canvas->layout, PANGO_ALIGN_LEFT);
}

void
tpt_phases_paint (const TptPhases *phases,
                  TptCanvas *canvas,
                  const TptFigureRect *area)
{
  TptPhasesLayout layout;

  if (!tpt_phases_have_effort (phases))
    {
      tpt_canvas_say (canvas, area, _("No camera was at work in the dark of this period: there is no rate to show."));
      return;
    }
  tpt_phases_lay_out (phases, canvas, area, &layout);
  tpt_canvas_write (canvas, _("per 100 trap nights"), area->x + tpt_canvas_get_inset (canvas), layout.head, &head_text);
  tpt_rate_scale_draw (&layout.scale, canvas);
  for (guint i = 0; i < phases->phases->len; i++)
    {
      const TptPhase *phase = &g_array_index (phases->phases, TptPhase, i);
      TptRateMark mark = tpt_phases_get_mark (phase);
      double room, x = tpt_phases_place (phases, &layout, i, &room);

      tpt_rate_effort_draw (&layout.scale, canvas, &mark, 0, x, room, 1);
      tpt_rate_mark_draw (&layout.scale, canvas, &mark, 0, x, room, 1);
      tpt_moon_draw (canvas, x, layout.moons, layout.radius, phase->lit, phase->waxing);
      if (i % layout.label_every == 0)
        write_label (phases, &layout, canvas, phase->label, x);
    }
}
