/* A project of its own for each case, rows put into it, files beside it. */
#pragma once

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-job-check.h"
#include "tpt-job-edit.h"
#include "tpt-job-import.h"
#include "tpt-job-lookup.h"
#include "tpt-job-undo.h"
#include "tpt-project.h"

typedef struct {
  char *folder; /* (owned) */
  char *path;   /* (owned) */
  TptProject *project;
} JobsFixture;

static inline void
jobs_set_up (JobsFixture *f, gconstpointer zone)
{
  g_autoptr (GError) error = NULL;

  f->folder = g_dir_make_tmp ("jobs-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->project = tpt_project_create (f->path, "Valley", zone != NULL ? zone : "Asia/Kuching", &error);
  g_assert_no_error (error);
}

static inline void
jobs_remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_file_test (path, G_FILE_TEST_IS_SYMLINK) ? NULL : g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      jobs_remove_tree (child);
    }
  g_remove (path);
}

static inline void
jobs_tear_down (JobsFixture *f, gconstpointer data)
{
  tpt_fault_arm (0);
  g_clear_object (&f->project);
  jobs_remove_tree (f->folder);
  g_free (f->path);
  g_free (f->folder);
}

static inline void
jobs_run (JobsFixture *f, gpointer job)
{
  g_autoptr (GError) error = NULL;

  tpt_project_run (f->project, job, NULL, &error);
  g_assert_no_error (error);
}

static inline TptInstant
at (const char *text)
{
  TptInstant instant = tpt_instant_parse (text, NULL, NULL);

  g_assert_cmpint (instant, !=, TPT_NO_INSTANT);
  return instant;
}

/* NULL is 'open'. */
static inline TptInstant
maybe_at (const char *text)
{
  return text != NULL ? at (text) : TPT_NO_INSTANT;
}

static inline TptRecord *
jobs_make (JobsFixture *f, TptTableId table, const char *const *cells)
{
  TptRecord *record = tpt_record_new (table);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; cells[i] != NULL; i += 2)
    {
      tpt_record_set_from_string (record, cells[i], cells[i + 1], tpt_project_get_zone (f->project), &error);
      g_assert_no_error (error);
    }
  return record;
}

#define ROW(table, ...) jobs_make (f, table, (const char *const[]){ __VA_ARGS__, NULL })

static inline void
jobs_put (JobsFixture *f, TptRecord *record)
{
  g_autoptr (TptRecord) owned = record;
  g_autoptr (TptJobEdit) job = tpt_job_edit_new ("put");

  tpt_job_edit_save (job, owned);
  jobs_run (f, job);
}

#define PUT(table, ...) jobs_put (f, ROW (table, __VA_ARGS__))

static inline void
jobs_set (JobsFixture *f, const char *key, const char *value)
{
  g_autoptr (TptJobEdit) job = tpt_job_edit_new ("set");

  tpt_job_edit_set_setting (job, key, value);
  jobs_run (f, job);
}

static inline void
jobs_undo (JobsFixture *f, gboolean redo)
{
  g_autoptr (TptJobUndo) job = tpt_job_undo_new (redo);

  jobs_run (f, job);
}

/* (transfer full): the path of a file beside the project. */
static inline char *
jobs_path (JobsFixture *f, const char *name)
{
  return g_build_filename (f->folder, name, NULL);
}

static inline char *
jobs_write (JobsFixture *f, const char *name, const char *text)
{
  char *path = jobs_path (f, name);
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
  return path;
}

static inline char *
jobs_read (const char *path)
{
  g_autoptr (GError) error = NULL;
  char *text = NULL;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}

/* One table brought in, every row of it. */
static inline void
jobs_import (JobsFixture *f, const char *text)
{
  g_autofree char *path = jobs_write (f, "table.csv", text);
  const char *paths[] = { path, NULL };
  g_autoptr (TptJobImport) job = tpt_job_import_new (paths, FALSE, FALSE);

  jobs_run (f, job);
  if (tpt_job_import_get_n_refused (job) > 0)
    {
      g_autofree char *refused = tpt_job_import_describe_refused (job, 0);
      g_error ("%s", refused);
    }
}

/* (transfer full): every record of a table, in the order of its list. */
static inline GPtrArray *
jobs_list (JobsFixture *f, TptTableId table, const char *column, const char *value)
{
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (table, column, value);
  GPtrArray *all = g_ptr_array_new_with_free_func (g_object_unref);

  jobs_run (f, job);
  for (guint i = 0; i < g_list_model_get_n_items (tpt_job_lookup_get_records (job)); i++)
    g_ptr_array_add (all, g_list_model_get_item (tpt_job_lookup_get_records (job), i));
  return all;
}

static inline guint
jobs_count (JobsFixture *f, TptTableId table)
{
  g_autoptr (GPtrArray) all = jobs_list (f, table, NULL, NULL);

  return all->len;
}

/* @pictures: those on record are there too. */
static inline void
jobs_assert_sound (JobsFixture *f, gboolean pictures)
{
  g_autoptr (TptJobCheck) job = tpt_job_check_new (pictures);
  GPtrArray *problems;

  jobs_run (f, job);
  problems = tpt_job_check_get_problems (job);
  if (problems->len > 0)
    g_test_message ("%s", (char *) problems->pdata[0]);
  g_assert_cmpuint (problems->len, ==, 0);
}

#define ADD(name, function) g_test_add (name, JobsFixture, NULL, jobs_set_up, function, jobs_tear_down)
