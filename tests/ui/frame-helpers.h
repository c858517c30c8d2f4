/* What the window tests of frames share: invented pictures at Alder ford, and names. */
#pragma once

#include <gdk-pixbuf/gdk-pixbuf.h>

#include "tpt-job-import.h"
#include "form-helpers.h"

#define N_TRIGGERS 6
#define FRAMES 3 /* in each of them */

static inline void
frames_write_picture (const char *folder, guint trigger, guint frame)
{
  g_autoptr (GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 640, 480);
  g_autofree char *name = g_strdup_printf ("t%u%c.jpg", trigger, 'a' + frame);
  g_autofree char *path = g_build_filename (folder, "pictures", name, NULL);
  GError *error = NULL;

  gdk_pixbuf_fill (pixbuf, 0x10101000u + (trigger << 28) + (frame << 20) + 0xff);
  gdk_pixbuf_save (pixbuf, path, "jpeg", &error, NULL);
  g_assert_no_error (error);
}

/* One trigger on each night; the pictures of trigger @missing are not there. */
static inline void
frames_import (TptProject *project, const char *folder, guint missing)
{
  g_autofree char *path = g_build_filename (folder, "frames.csv", NULL);
  g_autofree char *pictures = g_build_filename (folder, "pictures", NULL);
  g_autoptr (GString) table = g_string_new ("frame,deployment,file,camera_time\n");
  const char *const paths[] = { path, NULL };
  g_autoptr (TptJobImport) job = NULL;
  GError *error = NULL;

  g_mkdir (pictures, 0700);
  for (guint t = 0; t < N_TRIGGERS; t++)
    for (guint k = 0; k < FRAMES; k++)
      {
        g_string_append_printf (table, "t%u%c,ALDER-1,pictures/t%u%c.jpg,2026-03-%02uT23:15:%02u\n", t, 'a' + k, t, 'a' + k,
                                t + 2, k);
        if (t != missing)
          frames_write_picture (folder, t, k);
      }
  g_file_set_contents (path, table->str, -1, &error);
  g_assert_no_error (error);
  job = tpt_job_import_new (paths, FALSE, FALSE);
  tpt_project_run (project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (tpt_job_import_get_added (job), ==, N_TRIGGERS * FRAMES);
}

static inline void
frames_add_species (TptProject *project, const char *scientific, const char *common)
{
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_SPECIES);

  tpt_record_set_text (record, "scientific_name", scientific);
  tpt_record_set_name (record, "en", common);
  ui_save (project, "Add species", record);
}
