#include "config.h"

#include "tpt-number.h"
#include "tpt-phases-private.h"
#include "tpt-phrases-private.h"

#include <glib/gi18n-lib.h>

static const TptFigureKind phases_kind;

static void
clear_phase (gpointer data)
{
  g_free ((char *) ((TptPhase *) data)->label);
}

static void
free_phases (gpointer data)
{
  TptPhases *phases = data;

  g_array_unref (phases->phases);
  g_free (phases);
}

TptFigure *
tpt_phases_new (void)
{
  TptPhases *phases = g_new0 (TptPhases, 1);

  phases->phases = g_array_new (FALSE, FALSE, sizeof (TptPhase));
  g_array_set_clear_func (phases->phases, clear_phase);
  return tpt_figure_new (&phases_kind, phases);
}

int
tpt_phases_add (TptFigure *figure,
                const TptPhase *phase)
{
  TptPhases *phases = tpt_figure_get_data (figure, &phases_kind);
  TptPhase copy = *phase;

  copy.label = g_strdup (phase->label != NULL ? phase->label : "");
  g_array_append_val (phases->phases, copy);
  return (int) phases->phases->len - 1;
}

TptRateMark
tpt_phases_get_mark (const TptPhase *phase)
{
  return (TptRateMark) { phase->nights, phase->detections, phase->rate, phase->low, phase->high };
}

gboolean
tpt_phases_have_effort (const TptPhases *phases)
{
  for (guint i = 0; i < phases->phases->len; i++)
    if (g_array_index (phases->phases, TptPhase, i).nights > 0)
      return TRUE;
  return FALSE;
}

void
tpt_phases_set_scale (const TptPhases *phases,
                      TptRateScale *scale)
{
  g_autofree TptRateMark *marks = g_new (TptRateMark, phases->phases->len);

  for (guint i = 0; i < phases->phases->len; i++)
    marks[i] = tpt_phases_get_mark (&g_array_index (phases->phases, TptPhase, i));
  tpt_rate_scale_set (scale, marks, phases->phases->len);
}

static void
draw_phases (TptFigure *figure,
             TptCanvas *canvas,
             const TptFigureRect *area)
{
  tpt_phases_paint (tpt_figure_get_data (figure, &phases_kind), canvas, area);
}

static double
get_phases_height (TptFigure *figure,
                   TptCanvas *canvas,
                   double width)
{
  return tpt_phases_get_height (tpt_figure_get_data (figure, &phases_kind), canvas, width);
}

static TptFigureRect
get_phases_plot (TptFigure *figure,
                 TptCanvas *canvas,
                 const TptFigureRect *area)
{
  TptPhasesLayout layout;

  tpt_phases_lay_out (tpt_figure_get_data (figure, &phases_kind), canvas, area, &layout);
  return layout.scale.plot;
}

static char *
describe_phase (const TptPhase *phase)
{
  TptRateMark mark = tpt_phases_get_mark (phase);
  g_autofree char *numbers = tpt_rate_mark_say (&mark);

  /* Translators: a phase of the moon, such as "full", and the numbers of its nights. */
  return g_strdup_printf (_("%1$s moon: %2$s"), phase->label, numbers);
}

/* The column, the bar and the mark of a phase all stand for it. */
static void
hit_phase (const TptPhases *phases,
           const TptPhasesLayout *layout,
           TptCanvas *canvas,
           guint index,
           TptHitTest *test)
{
  const TptPhase *phase = &g_array_index (phases->phases, TptPhase, index);
  const TptFigureRect *plot = &layout->scale.plot;
  TptRateMark mark = tpt_phases_get_mark (phase);
  double room, x = tpt_phases_place (phases, layout, index, &room);
  TptFigureRect rects[] = {
    { x - room / 2, plot->y, room, layout->labels + layout->labels_height - plot->y },
    tpt_rate_effort_get_rect (&layout->scale, canvas, &mark, x, room),
    tpt_rate_mark_get_rect (&layout->scale, canvas, &mark, x, room),
  };
  guint n_rects = !(phase->nights > 0) ? 1 : isnan (phase->rate) ? 2 : 3;

  for (guint i = 0; i < n_rects; i++)
    if (tpt_hit_test_wants (test, TPT_LAYER_AREA + i, &rects[i]))
      tpt_hit_test_take (test, TPT_LAYER_AREA + i, &rects[i], TPT_HIT_PHASE, -1, (int) index, describe_phase (phase),
                         NULL);
}

static void
hit_phases (TptFigure *figure,
            TptCanvas *canvas,
            const TptFigureRect *area,
            TptHitTest *test)
{
  const TptPhases *phases = tpt_figure_get_data (figure, &phases_kind);
  TptPhasesLayout layout;

  if (!tpt_phases_have_effort (phases))
    return;
  tpt_phases_lay_out (phases, canvas, area, &layout);
  for (guint i = 0; i < phases->phases->len; i++)
    hit_phase (phases, &layout, canvas, i, test);
}

static void
add_phases_rows (TptFigure *figure,
                 TptFigureTable *table)
{
  const TptPhases *phases = tpt_figure_get_data (figure, &phases_kind);

  for (guint i = 0; i < phases->phases->len; i++)
    {
      const TptPhase *phase = &g_array_index (phases->phases, TptPhase, i);

      tpt_figure_table_add (table, g_strdup (phase->label), tpt_number_format_real (phase->lit),
                            g_strdup (phase->waxing ? "yes" : "no"), tpt_number_format_real (phase->nights),
                            g_strdup_printf ("%" G_GINT64_FORMAT, phase->detections),
                            tpt_number_format_real (phase->rate), tpt_number_format_real (phase->low),
                            tpt_number_format_real (phase->high), NULL);
    }
}

static char *
describe_phases (TptFigure *figure)
{
  const TptPhases *phases = tpt_figure_get_data (figure, &phases_kind);
  GString *text = g_string_new (_("Detections in the dark per 100 trap nights, by the phase of the moon."));

  if (!tpt_phases_have_effort (phases))
    {
      g_string_append (text, _(" No camera was at work."));
      return g_string_free (text, FALSE);
    }
  for (guint i = 0; i < phases->phases->len; i++)
    {
      g_autofree char *words = describe_phase (&g_array_index (phases->phases, TptPhase, i));

      g_string_append_printf (text, " %s.", words);
    }
  return g_string_free (text, FALSE);
}

/* A rate above the scale must not be taken for one at its end. */
static char *
note_phases (TptFigure *figure)
{
  const TptPhases *phases = tpt_figure_get_data (figure, &phases_kind);
  g_autoptr (GString) list = g_string_new (NULL);
  TptRateScale scale;

  tpt_phases_set_scale (phases, &scale);
  for (guint i = 0; i < phases->phases->len; i++)
    {
      const TptPhase *phase = &g_array_index (phases->phases, TptPhase, i);
      TptRateMark mark = tpt_phases_get_mark (phase);
      g_autofree char *words = describe_phase (phase);

      if (tpt_rate_mark_is_beyond (&scale, &mark))
        g_string_append_printf (list, "%s%s", list->len > 0 ? "; " : "", words);
    }
  /* Translators: phases of the moon with their numbers follow. */
  return list->len > 0 ? g_strdup_printf (_("Above the scale, on little effort: %s"), list->str) : NULL;
}

static char *
explain_phases (TptFigure *figure)
{
  return g_strdup (
    _("Marks: rate in a part of the moon’s round, hollow where nothing was seen; lines: its interval, "
      "an arrow where it leaves the scale; bars: trap nights; moons as seen from the northern half "
      "of the earth"));
}

static const char *const phases_columns[] = {
  "phase", "lit_share", "waxing", "trap_nights", "detections", "per_100_nights", "low", "high", NULL
};

static const TptFigureKind phases_kind = {
  .name = "phases",
  .columns = phases_columns,
  .draw = draw_phases,
  .height = get_phases_height,
  .plot = get_phases_plot,
  .hit = hit_phases,
  .add_rows = add_phases_rows,
  .describe = describe_phases,
  .note = note_phases,
  .explain = explain_phases,
  .free_data = free_phases,
};
