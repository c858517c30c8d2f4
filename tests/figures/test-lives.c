#include "figure-samples.h"

#include <string.h>

static const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

#define WIDTH 700
#define HEIGHT 400

static void
test_csv (void)
{
  g_autoptr (TptFigure) figure = sample_lives ();
  g_autofree char *csv = tpt_figure_csv (figure);

  g_assert_cmpstr (csv, ==,
                   "group,days,at_risk,failures,censored,survival,low,high,reason\r\n"
                   "\"Camera, \"\"boxed\"\" & dry\",100,4,1,0,0.75,0.43,1,\r\n"
                   "\"Camera, \"\"boxed\"\" & dry\",200,3,0,1,0.75,0.43,1,\r\n"
                   "\"Camera, \"\"boxed\"\" & dry\",250.5,2,2,0,0,,,\r\n"
                   "Flash,40,2,0,1,,,,too few for a curve\r\n"
                   "Flash,400,1,0,1,,,,too few for a curve\r\n");
}

/* The middle of the plot is 200 days, its top all of them. */
static void
test_hits (void)
{
  static const struct {
    const char *what;
    double days, share; /* where in the plot */
    TptHitKind kind;
    int row, item;
    const char *text;
  } cases[] = {
    { "on the first step", 180, 0.75, TPT_HIT_CURVE, 0, 0, "Camera, \"boxed\" & dry: 75 % at work after 100 days (43 to 100 %)" },
    { "on the second, without limits", 250.5, 0, TPT_HIT_CURVE, 0, 1, "Camera, \"boxed\" & dry: 0 % at work after 251 days" },
    { "beside them", 180, 0.4, TPT_HIT_NOTHING, -1, -1, NULL },
    { "where the other would have been", 380, 1, TPT_HIT_NOTHING, -1, -1, NULL },
  };
  g_autoptr (TptFigure) figure = sample_lives ();
  TptFigureRect plot = tpt_figure_plot_rect (figure, WIDTH, HEIGHT, &style);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (TptHit) hit = { 0 };

      tpt_figure_hit (figure, plot.x + plot.width * cases[i].days / 400, plot.y + plot.height * (1 - cases[i].share),
                      WIDTH, HEIGHT, &style, &hit);
      g_test_message ("%s", cases[i].what);
      g_assert_cmpint (hit.kind, ==, cases[i].kind);
      g_assert_cmpint (hit.row, ==, cases[i].row);
      g_assert_cmpint (hit.item, ==, cases[i].item);
      g_assert_cmpstr (hit.text, ==, cases[i].text);
    }
}

static void
test_rows (void)
{
  g_autoptr (TptFigure) figure = sample_lives ();
  TptFigureRect plot = tpt_figure_plot_rect (figure, WIDTH, HEIGHT, &style);
  g_auto (TptHit) hit = { 0 };

  g_assert_true (tpt_figure_hit (figure, plot.x + 40, HEIGHT - 6, WIDTH, HEIGHT, &style, &hit));
  g_assert_cmpint (hit.kind, ==, TPT_HIT_ROW);
  g_assert_cmpint (hit.row, ==, 1);
  g_assert_cmpstr (hit.text, ==, "Flash: 0 of 2 units failed; too few for a curve");
}

/* Not an axis of time: there is no instant to point at. */
static void
test_no_instants (void)
{
  g_autoptr (TptFigure) figure = sample_lives ();
  TptInstant instant;

  g_assert_false (tpt_figure_value_at (figure, 300, WIDTH, HEIGHT, &style, &instant));
}

static void
test_words (void)
{
  g_autoptr (TptFigure) figure = sample_lives (), empty = tpt_lives_new ();
  g_autofree char *words = tpt_figure_describe (figure), *none = tpt_figure_describe (empty);

  g_assert_nonnull (strstr (words, "How long units last, by the age at which they failed. Camera, \"boxed\" & dry: 3 of 4 units "
                                   "failed. Camera, \"boxed\" & dry: 0 % at work after 251 days. Flash: 0 of 2 units failed; "
                                   "too few for a curve."));
  g_assert_cmpstr (none, ==, "How long units last, by the age at which they failed.");
}

/* With less and less room groups are left out, never drawn outside, and said. */
static void
test_room (void)
{
  g_autoptr (TptFigure) figure = tpt_lives_new ();
  const TptLivesEnd end = { 30, FALSE };
  double full;

  for (guint i = 0; i < 24; i++)
    {
      g_autofree char *label = g_strdup_printf ("Group %u", i);
      TptLivesGroup group = { .label = label, .reason = "none has failed", .ends = &end, .n_ends = 1 };

      tpt_lives_add_group (figure, &group);
    }
  full = tpt_figure_preferred_height (figure, WIDTH, &style);
  for (double height = full; height > 40; height /= 1.3)
    {
      TptFigureRect plot = tpt_figure_plot_rect (figure, WIDTH, height, &style);
      g_auto (TptHit) last = { 0 }, foot = { 0 };

      g_assert_cmpfloat (plot.y + plot.height, <=, MAX (height, 80));
      tpt_figure_hit (figure, plot.x, full - 6, WIDTH, full, &style, &last);
      g_assert_cmpint (last.row, ==, 23);
      tpt_figure_hit (figure, plot.x, height - 2, WIDTH, height, &style, &foot);
      g_assert_cmpint (foot.row, <, height < full ? 23 : 24);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/lives/csv", test_csv);
  g_test_add_func ("/figures/lives/hits", test_hits);
  g_test_add_func ("/figures/lives/rows", test_rows);
  g_test_add_func ("/figures/lives/no-instants", test_no_instants);
  g_test_add_func ("/figures/lives/words", test_words);
  g_test_add_func ("/figures/lives/room", test_room);
  return g_test_run ();
}
