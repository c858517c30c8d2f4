#include "tpt-fold.h"

static void
test_text (void)
{
  static const struct {
    const char *text;
    const char *folded;
  } cases[] = {
    { "Tragulus kanchil", "tragulus kanchil" },
    { "  Lesser   mouse-deer. ", "lesser mouse deer" },
    { "Ciervo RATÓN", "ciervo raton" },      /* composed */
    { "Ciervo rato\xcc\x81n", "ciervo raton" }, /* the same, decomposed */
    { "Hose’s civet", "hoses civet" },
    { "Hose's civet", "hoses civet" },
    { "Straße", "strasse" },
    { "kijang (muntjac)", "kijang muntjac" },
    { "no \xff sense", "no sense" }, /* no UTF-8 */
    { "—", "" },
    { "", "" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *folded = tpt_fold_text (cases[i].text);

      g_assert_cmpstr (folded, ==, cases[i].folded);
    }
}

static void
test_fits (void)
{
  static const char text[] = "hemigalus derbyanus\nbanded civet\nmusang belang";
  static const struct {
    const char *sought;
    gboolean fits;
  } cases[] = {
    { "", TRUE },         { "civet", TRUE },      { "ci", TRUE },       { "ban civ", TRUE },  { "civ ban", TRUE },
    { "mus hem", TRUE },  { "ivet", FALSE },      { "civets", FALSE },  { "civ otter", FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("“%s”", cases[i].sought);
      g_assert_cmpint (tpt_fold_fits (text, cases[i].sought), ==, cases[i].fits);
    }
  g_assert_false (tpt_fold_fits ("", "civet"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fold/text", test_text);
  g_test_add_func ("/fold/fits", test_fits);
  return g_test_run ();
}
