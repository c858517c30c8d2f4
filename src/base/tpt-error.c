#include "tpt-error.h"

#include <stdlib.h>

G_DEFINE_QUARK (tpt-error-quark, tpt_error)

static int fault_countdown; /* (atomic) */
static int fault_passages;  /* (atomic) */

int
tpt_error_exit_status (const GError *error)
{
  if (error == NULL)
    return 0;
  if (error->domain != TPT_ERROR)
    return 1;

  switch ((TptError) error->code)
    {
    case TPT_ERROR_USAGE:
      return 2;
    case TPT_ERROR_PROJECT:
    case TPT_ERROR_NEWER:
    case TPT_ERROR_BUSY:
      return 3;
    case TPT_ERROR_DATA:
    case TPT_ERROR_CONFLICT:
    case TPT_ERROR_IO:
    case TPT_ERROR_FAULT:
    default:
      return 1;
    }
}

void
tpt_fault_arm (int countdown)
{
  g_atomic_int_set (&fault_passages, 0);
  g_atomic_int_set (&fault_countdown, countdown);
}

int
tpt_fault_count (void)
{
  return g_atomic_int_get (&fault_passages);
}

static void
arm_from_environment (void)
{
  static gsize once;

  if (g_once_init_enter (&once))
    {
      const char *value = g_getenv ("TAPETUM_FAULT");
      if (value != NULL)
        g_atomic_int_set (&fault_countdown, atoi (value));
      g_once_init_leave (&once, 1);
    }
}

gboolean
tpt_fault_point (const char *name, GError **error)
{
  int passage;

  arm_from_environment ();
  passage = g_atomic_int_add (&fault_passages, 1) + 1;
  if (passage != g_atomic_int_get (&fault_countdown))
    return TRUE;

  g_set_error (error, TPT_ERROR, TPT_ERROR_FAULT, "Step %d (%s) failed on purpose", passage, name);
  return FALSE;
}
