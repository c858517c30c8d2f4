/* Kills a child that takes a card in, at moments spread over its whole run, and
 * runs it again: the card untouched, the destination whole, nothing twice. The
 * child's progress sets off its killer, a thread that strikes a random while
 * later: so the moments do not depend on how fast the machine is just now. */
#include <glib.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "intake-fixture.h"
#include "tpt-intake-run.h"

#define N_FILES 40
#define N_KILLS 40

/* When the child is to die: after so many calls of progress, and a while. */
typedef struct {
  guint calls;
  guint after_us;
} Death;

static gpointer
kill_cb (gpointer user_data)
{
  const Death *death = user_data;

  g_usleep (death->after_us);
  kill (getpid (), SIGKILL);
  return NULL;
}

static void
progress_cb (guint files_done, guint files_total, gint64 bytes_done, gint64 bytes_total, const char *name,
             gpointer user_data)
{
  Death *death = user_data;

  if (death->calls > 0 && --death->calls == 0)
    g_thread_unref (g_thread_new ("killer", kill_cb, death));
}

static TptIntake *
take_in (const char *card, const char *destination, Death *death)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Asia/Kuching", NULL);
  TptIntakeRequest request = { .card = card, .destination = destination, .prefix = "D1", .frames_per_trigger = 3 };

  request.clock = (TptClock) { .zone = zone, .start = TPT_NO_INSTANT, .end = TPT_NO_INSTANT, .now = TPT_NO_INSTANT };
  request.progress = progress_cb;
  request.progress_data = death;
  return tpt_intake_run (&request, NULL, NULL);
}

/* A process of its own, so that no thread of this one is copied half. Each
 * file makes at least two calls, so it does die; at the latest when done. */
static void
run_and_kill (const char *program, const char *card, const char *destination)
{
  g_autofree char *calls = g_strdup_printf ("%d", g_test_rand_int_range (1, 2 * N_FILES + 1));
  g_autofree char *after_us = g_strdup_printf ("%d", g_test_rand_int_range (0, 3000));
  pid_t child = fork ();
  int status;

  if (child == 0)
    {
      execl (program, program, "--take-in", card, destination, calls, after_us, NULL);
      _exit (127);
    }
  g_assert_cmpint (child, >, 0);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFSIGNALED (status) && WTERMSIG (status) == SIGKILL);
}

static int
be_child (char **argv)
{
  Death death = { atoi (argv[4]), atoi (argv[5]) };
  g_autoptr (TptIntake) intake = take_in (argv[2], argv[3], &death);

  if (intake == NULL || death.calls > 0)
    return 1;
  for (;;)
    pause ();
}

static void
fill_card (const char *card)
{
  for (guint i = 0; i < N_FILES; i++)
    {
      g_autofree char *name = g_strdup_printf ("DCIM/%u/IMG_%u.JPG", 100 + i / 10, i);
      g_autofree char *date = g_strdup_printf ("2025-05-14T%02u:%02u:%02u", i / 3, i, i % 3);

      fixture_write_jpeg (card, name, i, date);
    }
}

static void
test_kill (gconstpointer program)
{
  g_autofree char *card = fixture_make_folder ();
  g_autofree char *folder = fixture_make_folder ();
  g_autofree char *destination = g_build_filename (folder, "pictures", NULL);
  g_autofree char *card_before = NULL;
  g_autofree char *wanted = NULL;
  guint n_halves = 0;

  fill_card (card);
  card_before = fixture_list_tree (card, TRUE);
  tpt_intake_free (take_in (card, destination, &(Death) { 0 }));
  wanted = fixture_list_tree (destination, TRUE);

  for (guint i = 0; i < N_KILLS; i++)
    {
      g_autoptr (TptIntake) intake = NULL;
      g_autofree char *card_after = NULL;
      g_autofree char *left = NULL;
      g_autofree char *found = NULL;

      fixture_remove_tree (destination);
      /* twice in a row, so that a resumed run is killed as well */
      run_and_kill (program, card, destination);
      run_and_kill (program, card, destination);
      left = fixture_list_tree (destination, TRUE);
      n_halves += !g_str_equal (left, wanted);

      intake = take_in (card, destination, &(Death) { 0 });
      g_assert_nonnull (intake);
      g_assert_cmpuint (intake->frames->len, ==, N_FILES);
      g_assert_cmpuint (intake->duplicates->len + intake->unreadable->len, ==, 0);
      found = fixture_list_tree (destination, TRUE);
      g_assert_cmpstr (found, ==, wanted);
      card_after = fixture_list_tree (card, TRUE);
      g_assert_cmpstr (card_after, ==, card_before);
    }

  g_test_message ("left half done %u times of %u", n_halves, (guint) N_KILLS);
  /* or the moments were badly chosen, and nothing was tested */
  g_assert_cmpuint (n_halves, >, 0);
  fixture_remove_tree (card);
  fixture_remove_tree (folder);
}

int
main (int argc, char **argv)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);

  if (argc == 6 && g_str_equal (argv[1], "--take-in"))
    return be_child (argv);

  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  tpt_exif_init ();
  g_test_add_data_func ("/intake-run/kill", program, test_kill);
  return g_test_run ();
}
