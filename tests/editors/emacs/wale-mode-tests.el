;;; wale-mode-tests.el --- The mode for patterns, tried in Emacs  -*- lexical-binding: t; -*-

;; Called by tests/editors/run in the folder of the project.  The program wale is on the path.

;;; Code:

(require 'ert)
(require 'imenu)
(require 'wale-mode)

(defun wale-tests--examples ()
  "The paths of all examples."
  (let ((found (directory-files (expand-file-name "examples") t "\\.wale\\'")))
    (should (>= (length found) 10))
    found))

(defmacro wale-tests--with (path &rest body)
  "Do BODY in a buffer with the text at PATH, in the mode."
  (declare (indent 1))
  `(with-temp-buffer
     (insert-file-contents ,path)
     (wale-mode)
     (font-lock-ensure)
     ,@body))

(defun wale-tests--face (pattern)
  "The face behind the first place where PATTERN is found."
  (goto-char (point-min))
  (should (re-search-forward pattern nil t))
  (get-text-property (point) 'face))

(ert-deftest wale-tests-colours ()
  (wale-tests--with "examples/foam-edging.wale"
    (pcase-dolist
        (`(,pattern . ,face)
         '(("\\`" . font-lock-keyword-face)
           ("^pattern \"" . font-lock-string-face)
           ("^# Eyelets on " . font-lock-comment-face)
           ("^yarn " . font-lock-variable-name-face)
           ("^    colo" . font-lock-variable-name-face)
           ("28/2 " . font-lock-type-face)
           ("^let holes = " . font-lock-preprocessor-face)
           ("every 4 over " . font-lock-constant-face)
           ("every 4 " . nil)
           ("^stitch " . font-lock-function-name-face)
           ("^stitch foam on " . font-lock-type-face)
           ("^    rows 2 front " . font-lock-keyword-face)
           ("holes 1 " . font-lock-constant-face)
           ("^    in" . font-lock-builtin-face)
           ("^    in " . font-lock-builtin-face)
           ("^    stitch si" . font-lock-preprocessor-face)
           ("^    work " . font-lock-function-name-face)
           ("work foam 40 " . font-lock-keyword-face)
           ("^    exp" . font-lock-warning-face)
           ("expect 20 " . font-lock-type-face)))
      (should (equal (list pattern face) (list pattern (wale-tests--face pattern))))))
  (wale-tests--with "examples/lantern-hat.wale"
    (should (eq (wale-tests--face "and 36 ") 'font-lock-type-face))
    (should (eq (wale-tests--face "brim = 6 (8) ") 'font-lock-type-face))
    (should (eq (wale-tests--face "^    in") 'font-lock-builtin-face))
    (should (eq (wale-tests--face "note \"Cut the ") 'font-lock-string-face))))

(ert-deftest wale-tests-words ()
  (should (> (apply #'+ (mapcar (lambda (entry) (length (cdr entry))) wale--words)) 140))
  (dolist (entry wale--words)
    (should (assq (car entry) wale--faces))
    (dolist (word (cdr entry))
      (with-temp-buffer
        (insert word "\n")
        (wale-mode)
        (font-lock-ensure)
        (should (equal (list word (cdr (assq (car entry) wale--faces)))
                       (list word (get-text-property (point-min) 'face)))))))
  ;; Inside a name a word is none.
  (dolist (name '("row-over" "knitten" "half-knit" "both-2"))
    (with-temp-buffer
      (insert name "\n")
      (wale-mode)
      (font-lock-ensure)
      (should-not (text-property-not-all (point-min) (point-max) 'face nil)))))

(ert-deftest wale-tests-indentation ()
  (dolist (path (wale-tests--examples))
    (wale-tests--with path
      (let ((before (buffer-string)))
        (goto-char (point-min))
        ;; Scrambled in a way that is the same each time.
        (let ((step 0))
          (while (not (eobp))
            (delete-horizontal-space)
            (unless (eolp)
              (insert (make-string (setq step (mod (+ step 7) 11)) ?\s)))
            (forward-line)))
        (should-not (string= before (buffer-string)))
        (indent-region (point-min) (point-max))
        (should (string= (substring-no-properties before) (buffer-substring-no-properties (point-min) (point-max))))))))

(ert-deftest wale-tests-comments ()
  (with-temp-buffer
    (insert "row front knit\n")
    (wale-mode)
    (comment-region (point-min) (point-max))
    (should (string= (buffer-string) "# row front knit\n"))
    (uncomment-region (point-min) (point-max))
    (should (string= (buffer-string) "row front knit\n"))))

(ert-deftest wale-tests-imenu ()
  (wale-tests--with "examples/lantern-hat.wale"
    (let ((index (funcall imenu-create-index-function)))
      (pcase-dolist (`(,kind . ,names)
                     '(("Pieces" "Hat") ("Sections" "Brim" "Crown" "Gathering") ("Stitches" "rib" "crown")
                       ("Yarns" "ember") ("Values" "half" "brim" "height")))
        (should (equal (cons kind names) (cons kind (mapcar #'car (cdr (assoc kind index))))))))))

(ert-deftest wale-tests-files-are-known ()
  (let ((buffer (find-file-noselect "examples/quay.wale")))
    (unwind-protect
        (with-current-buffer buffer
          (should (eq major-mode 'wale-mode))
          (should (string= compile-command "wale check --format short quay.wale")))
      (kill-buffer buffer))))

(defconst wale-tests--mistaken
  "machine club { needles 92 each side }
yarn ålgrön {}
piece \"Scarf\" {
    in work front L3-R3
    thread ålgrön
    cast on wound front
    row front knit on \"å\", knitt
    bind off front
}
"
  "A pattern with a mistake in line 7.")

(ert-deftest wale-tests-compile ()
  (let* ((folder (file-name-as-directory (make-temp-file "wale" t)))
         (default-directory folder)
         (compilation-ask-about-save nil)
         (coding-system-for-write 'utf-8))
    (unwind-protect
        (progn
          (write-region wale-tests--mistaken nil (concat folder "scarf.wale"))
          (let* ((output (compile "wale check --format short scarf.wale"))
                 (process (get-buffer-process output)))
            (while (process-live-p process)
              (accept-process-output process 0.1))
            (with-current-buffer output
              (font-lock-ensure)
              (compilation--ensure-parse (point-max))
              (goto-char (point-min))
              (compilation-next-error 1)
              (let* ((message (get-text-property (point) 'compilation-message))
                     (location (compilation--message->loc message)))
                (should (= 2 (compilation--message->type message)))
                (should (= 7 (compilation--loc->line location)))
                (should (string-match-p "scarf\\.wale:7:28: error: .*knitt" (thing-at-point 'line)))))
            (next-error 1 t)
            (with-current-buffer (window-buffer)
              (should (looking-at "knitt")))))
      (delete-directory folder t))))

(ert-deftest wale-tests-flymake ()
  (with-temp-buffer
    (insert wale-tests--mistaken)
    (wale-mode)
    (should (memq #'wale-flymake flymake-diagnostic-functions))
    (let ((found 'none)
          (until (+ (float-time) 20)))
      (wale-flymake (lambda (diagnostics &rest _) (setq found diagnostics)))
      (while (and (eq found 'none) (< (float-time) until))
        (accept-process-output nil 0.1))
      (should (= 1 (length found)))
      (let ((diagnostic (car found)))
        (should (eq :error (flymake-diagnostic-type diagnostic)))
        (should (string-match-p "misspelt-word" (flymake-diagnostic-text diagnostic)))
        (should (string= "knitt" (buffer-substring (flymake-diagnostic-beg diagnostic) (flymake-diagnostic-end diagnostic))))))))

(ert-deftest wale-tests-eglot ()
  ;; Eglot is part of Emacs from version 29 on; what is registered is looked at without it, too.
  (setq eglot-server-programs nil)
  (provide 'eglot)
  (should (equal '((wale-mode "wale" "serve")) eglot-server-programs)))

(provide 'wale-mode-tests)
;;; wale-mode-tests.el ends here
